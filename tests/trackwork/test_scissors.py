"""A scissors crossover walked by hand, rail by rail, from the drawing in its docstring."""

from __future__ import annotations

from itertools import product

import pytest

from .walking import around, facts_of, legs, walk

ENDS = ("S.a1", "S.b1"), ("S.a2", "S.b2")
WORK = "".join(f"\nfrog S-{part} switched from stock rails" for part in ("a1", "a2", "b1", "b2", "x"))
PLAN = around(f"scissors S number 6 isolated-frog{WORK}", *ENDS)

# For each route: how the parts stand, and what the left and the right wheel roll over, read off the drawing. Looking
# from end 1 to end 2, a turnout of end 2 is passed from its frog to its points. Track b lies to the left, so it is the
# left wheel on track a and the right one on track b that meets the frogs.
ROUTES = {
    ("a1", "a2"): (
        "S-a1 through, S-a2 through",
        "S-a1 diverging stock, S-a1 through closure, S-a1 frog, S-a1 through frog rail, S-a2 through frog rail, "
        "S-a2 frog, S-a2 through closure, S-a2 diverging stock",
        "S-a1 through stock, S-a2 through stock",
    ),
    ("b1", "b2"): (
        "S-b1 through, S-b2 through",
        "S-b1 through stock, S-b2 through stock",
        "S-b1 diverging stock, S-b1 through closure, S-b1 frog, S-b1 through frog rail, S-b2 through frog rail, "
        "S-b2 frog, S-b2 through closure, S-b2 diverging stock",
    ),
    ("a1", "b2"): (
        "S-a1 diverging, S-x a, S-b2 diverging",
        "S-a1 diverging stock, S-x near a left, S-x frog 1, S-x far a left, S-b2 diverging frog rail, S-b2 frog, "
        "S-b2 diverging closure, S-b2 through stock",
        "S-a1 through stock, S-a1 diverging closure, S-a1 frog, S-a1 diverging frog rail, S-x near a right, "
        "S-x frog 2, S-x far a right, S-b2 diverging stock",
    ),
    ("b1", "a2"): (
        "S-b1 diverging, S-x b, S-a2 diverging",
        "S-b1 through stock, S-b1 diverging closure, S-b1 frog, S-b1 diverging frog rail, S-x near b left, "
        "S-x far a left, S-x middle b left, S-x frog 2, S-x far b left, S-a2 diverging stock",
        "S-b1 diverging stock, S-x near b right, S-x frog 1, S-x middle b right, S-x near a right, S-x far b right, "
        "S-a2 diverging frog rail, S-a2 frog, S-a2 diverging closure, S-a2 through stock",
    ),
}


def whole(words: str) -> str:
    """`S-a1's diverging stock rail` of the short form above."""
    piece, _, name = words.partition(" ")
    plain = name.endswith(("rail", "frog", "frog 1", "frog 2"))
    return f"{piece}'s {name}" if plain else f"{piece}'s {name} rail"


@pytest.mark.parametrize("route", ROUTES)
def test_each_wheel_stays_on_its_rail(route: tuple[str, str]) -> None:
    facts = facts_of(PLAN)
    stands, *rails = ROUTES[route]
    said = {tuple(one.split()) for one in stands.split(", ")}
    told = {switch for switch, _ in said}
    others = {(switch, positions[0]) for switch, positions in facts.graph.positions.items() if switch not in told}
    setting = frozenset(said | others)  # type: ignore[arg-type]
    carried = legs(facts, setting)
    for side, rail, leg in zip(("left", "right"), rails, ("red", "black"), strict=True):
        walked = walk(facts, f"to-S-{route[0]}'s {side} rail", setting)
        assert walked[1:-1] == [whole(one) for one in rail.split(", ")]
        assert walked[-1] == f"from-S-{route[1]}'s {side} rail"
        assert {carried[name] for name in walked} == {leg}


def test_it_is_four_turnouts_and_a_crossing() -> None:
    facts = facts_of(PLAN)
    parts = {name: piece.statement for name, piece in facts.layout.pieces.items() if name.startswith("S-")}
    hands = {name: getattr(one, "hand", None) for name, one in parts.items()}
    assert hands == {"S-a1": "left", "S-b2": "left", "S-a2": "right", "S-b1": "right", "S-x": None}
    angle = float(parts["S-x"].angle)  # type: ignore[union-attr]
    assert abs(angle - 2 * (9 + 32 / 60)) < 2 / 60  # a number 6 frog has 9 degrees 32 minutes (Tratman's table)
    assert {one.at for one in parts.values()} == {next(iter(parts.values())).at}


def test_it_is_sound_in_every_setting() -> None:
    facts = facts_of(PLAN)
    assert not facts.shorts and not facts.opposed and not facts.turning.odd_cycles()
    settings = list(product(*facts.graph.positions.values()))
    assert len(settings) == 32
    for positions in settings:
        legs(facts, frozenset(zip(facts.graph.positions, positions, strict=True)))


def test_the_crossing_follows_a_turnout() -> None:
    """With the crossing's frogs switched by S-a1, its route a is one with S-a1 diverging or not at all."""
    own, with_b1 = "switched from stock rails", "switched with S-b1 through main.red diverging main.black"
    text = PLAN.replace(f"frog S-x {own}", f"frog S-x {with_b1}")
    facts = facts_of(text)
    assert "S-x" not in facts.graph.positions
    assert not facts.opposed
    swapped = facts_of(text.replace("through main.red diverging main.black", "through main.black diverging main.red"))
    assert swapped.opposed


@pytest.mark.parametrize("word", ["S", "S.a3"])
def test_its_ends_are_offered(word: str) -> None:
    from railbond.layout.build import build
    from railbond.trackwork import expand, template_for
    from trackplan.read import read
    from trackplan.span import Source

    text = PLAN.replace("from-S-a2 S.a2", f"from-S-a2 {word}")
    plan = build(read(Source("p", text)).statements, template_for, expand=expand)
    assert any("a1" in fault.message and "b2" in fault.message for fault in plan.faults)
