"""Endplates with the leg they must carry, and whether what is accepted is accepted at a name there is."""

from __future__ import annotations

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


def acceptances(symbols: SymbolTable) -> list[Accept]:
    """The plan's, each with its rule as it is called now."""
    return [one._replace(rule=called_now(one.rule)) for one in symbols.of(Accept)]


def called_now(rule: Word) -> Word:
    new = FORMER_RULES.get(rule)
    return Word(new, rule.start, rule.end, rule.lead) if new else rule


def check_acceptances(symbols: SymbolTable, names: Names, track: Track) -> None:
    """Tells acceptances at a name that the plan does not have."""
    for accept in (one for one in symbols.of(Accept) if not one.everywhere):
        whole = names.whole(accept.place)
        if not _known(accept, whole, names, track):
            pool = chain(names.defined, track.joints, track.ends.named)
            names.unknown(accept, accept.place, whole, "piece, joint, supply, engine or train", pool)


def _known(accept: Accept, whole: str, names: Names, track: Track) -> bool:
    """Whether a name is defined, or is an end, a joint, an engine or a train, or part of what is defined."""
    while whole:
        if whole in names.defined or whole in track.joints or whole in track.waiting:
            return True
        whole = whole.rpartition(".")[0]
    return f"running {accept.place}" in names.others
