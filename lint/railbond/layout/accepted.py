"""Endplates with the leg they must carry, and whether what is accepted is accepted at a name there is."""

from __future__ import annotations

from collections.abc import Collection, Container, Iterable
from itertools import chain

from railbond.findings import Step
from trackplan.span import Word
from trackplan.statements import Accept, Endplate, Scale, where

from .model import Edge
from .names import Names, listed
from .supplies import LEGS
from .symbols import SymbolTable
from .terminals import Terminals
from .track import Track

FORMER_RULES = {
    "feeder-spacing": "feeders-too-far-apart",
    "frog-rail-gap": "frog-rail-gap-missing",
    "long-bus": "bus-too-long",
    "open-point": "open-point-opposed",
    "track-voltage": "track-voltage-wrong",
    "trip-order": "breaker-trips-first",
}
"""What rules were called that plans may still accept, and what they are called now."""

RUNNING = "running "
"""What goes before the names of engines and trains among the names of other kinds."""


def make_edges(symbols: SymbolTable, names: Names, track: Track, power: Terminals) -> dict[str, Edge]:
    """The plan's endplates, each with the end that reaches it and the leg of its left rail, looking out."""
    legs = _leg_numbers(power)
    edges = {}
    for plate in symbols.of(Endplate):
        name = names.whole(plate.name)
        edges[name] = Edge(name, track.edges.get(name), _left(plate, legs, names), plate)
    return edges


def _leg_numbers(power: Terminals) -> dict[str, set[int]]:
    """Whether each leg's name is that of a first or a second leg, or of both."""
    numbers: dict[str, set[int]] = {}
    for legs in dict.fromkeys([supply.legs for supply in power.supplies.values()]) or [LEGS]:
        for number, leg in enumerate(legs):
            numbers.setdefault(leg, set()).add(number)
    return numbers


def _left(plate: Endplate, legs: dict[str, set[int]], names: Names) -> int | None:
    if plate.left is None:
        return None
    found = legs.get(plate.left, set())
    if len(found) == 1:
        return min(found)
    if found:
        message = f"`{plate.left}` is the first leg of one supply and the second of another: which is meant?"
        names.fault("unknown-name", plate, plate.left, message, name=plate.name)
        return None
    near = names.near(plate.left, legs)
    names.misspelled(plate, plate.left, f"no leg is called `{plate.left}`; the legs are {listed(legs)}", near)
    return min(legs[near]) if near else None


def read_scale(symbols: SymbolTable, names: Names) -> str | None:
    """The plan's scale; a second statement may only say the same."""
    scales = symbols.of(Scale)
    for other in scales[1:]:
        if other.scale != scales[0].scale:
            why = (Step(where(scales[0]), "the plan's scale is told here"),)
            message = f"the plan is in {scales[0].scale} scale already"
            names.fault("impossible", other, other.scale, message, why=why)
    return str(scales[0].scale) if scales else None


def acceptances(statements: Iterable[Accept]) -> list[Accept]:
    """Acceptances, each with its rule as it is called now."""
    return [one._replace(rule=called_now(one.rule)) for one in statements]


def called_now(rule: Word) -> Word:
    new = FORMER_RULES.get(rule)
    return Word(new, rule.start, rule.end, rule.lead) if new else rule


def acceptable(names: Names, track: Track, power: Terminals) -> dict[str, None]:
    """The whole names at which something can be accepted: what is defined, joints, bus plugs, engines and trains."""
    running = (names.whole(one.removeprefix(RUNNING)) for one in names.others if one.startswith(RUNNING))
    return dict.fromkeys(chain(names.defined, track.joints, track.waiting, power.supplies, power.terminals, running))


def check_acceptances(
    statements: Iterable[Accept], names: Names, known: Collection[str], others: Iterable[str] = ()
) -> None:
    """Tells acceptances at a name that the plan does not have, nor what it would be part of. `others` are names that
    may be meant, too."""
    for accept in (one for one in statements if not one.everywhere):
        whole = names.whole(accept.place)
        if not is_known(whole, known):
            pool = chain(known, others)
            names.unknown(accept, accept.place, whole, "piece, joint, supply, engine or train", pool)


def is_known(whole: str, known: Container[str]) -> bool:
    """Whether a name is known, or part of what is."""
    while whole:
        if whole in known:
            return True
        whole = whole.rpartition(".")[0]
    return False
