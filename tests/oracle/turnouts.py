"""A turnout's rails, read off the definitions: what is one piece in each build, and where rails come out."""

from __future__ import annotations

from typing import NamedTuple

from .rails import Blade, Bond, Conductor, Pass

TS, DS = "through stock rail", "diverging stock rail"
TC, DC = "through closure rail", "diverging closure rail"
TF, DF = "through frog rail", "diverging frog rail"
F = "frog"

JUMPERS = {(TC, F), (DC, F)}
FROG_RAILS = {(F, TF), (F, DF)}
CLOSURES_RUN_ON = {(TC, TF), (DC, DF)}
BONDED = {(TC, DS), (DC, TS)}

BUILDS = {
    "dead-frog": CLOSURES_RUN_ON,
    "live-frog": JUMPERS | FROG_RAILS,
    "isolated-frog": BONDED | {(TF, DS), (DF, TS)},
}

# Looking out of each end: the left rail, the right rail.
RIGHT_HAND = {"points": (DS, TS), "through": (TS, TF), "diverging": (DF, DS)}
LEFT_HAND = {"points": (TS, DS), "through": (TF, TS), "diverging": (DS, DF)}
ENDS = {"left": LEFT_HAND, "right": RIGHT_HAND, "wye": RIGHT_HAND}

WANTS = {"through": DS, "diverging": TS}


class Rails(NamedTuple):
    """One turnout's conductors and what is true of it by itself."""

    rails: list[Conductor]
    frogs: list[Conductor]
    bonds: list[Bond]
    passes: list[Pass]
    blades: list[Blade]


def pairs(build: str, work: set[str]) -> set[tuple[str, str]]:
    """The rails that are always one, for a build and the words of what was bonded and cut."""
    joined = set(BUILDS[build])
    if "bond" in work:
        joined |= BONDED
    if "closure jumpers" in work:
        joined -= JUMPERS
    if "around frog" in work:
        joined = joined - JUMPERS - FROG_RAILS | CLOSURES_RUN_ON
    if "around frog without jumpers" in work:
        joined = joined - JUMPERS - FROG_RAILS
    if "frog rails" in work:
        joined -= FROG_RAILS
    return joined


def rails_of(name: str, build: str, work: set[str]) -> Rails:
    """Everything about one turnout that its neighbors do not change."""
    metal = build != "dead-frog"
    bonds = [Bond((name, one), (name, other)) for one, other in sorted(pairs(build, work))]
    return Rails(
        [(name, words) for words in (TS, DS, TC, DC, TF, DF)],
        [(name, F)] if metal else [],
        bonds + [touch(name, TC, DS, "through"), touch(name, DC, TS, "diverging")],
        rolls(name, TC, TF, metal, "through") + rolls(name, DC, DF, metal, "diverging"),
        [blade(name, TC, DS, "diverging"), blade(name, DC, TS, "through")],
    )


def touch(name: str, closure: str, stock: str, route: str) -> Bond:
    return Bond((name, closure), (name, stock), frozenset({(name, route)}), touch=True)


def blade(name: str, closure: str, stock: str, opened: str) -> Blade:
    return Blade((name, closure), (name, stock), frozenset({(name, opened)}))


def rolls(name: str, closure: str, frog_rail: str, metal: bool, route: str) -> list[Pass]:
    """Over the frog: from the closure rail to the frog and on, or over plastic in one go."""
    way = [closure, F, frog_rail] if metal else [closure, frog_rail]
    when = frozenset({(name, route)})
    return [Pass((name, one), (name, other), when, "frog") for one, other in zip(way, way[1:], strict=False)]
