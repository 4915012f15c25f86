"""Which wire a stretch of track without power has lost: the nearest one, or one that is idle."""

from __future__ import annotations

from collections.abc import Collection, Iterable

from railbond.circuit.facts import Facts
from railbond.circuit.polarity import part_of
from railbond.circuit.signed_graph import Part, beyond

from .wires_nearby import idle_wires, is_reversing, parts_of, wires_outwards

MOST_ASKED = 3
"""Wires nearby among which one of another supply is looked for."""


def wire_around(facts: Facts, conductors: Iterable[int]) -> str:
    """The wire that rails without power have most likely lost. Empty where the plan has no supply.

    It is that of a frog among them, and else the nearest wire, unless another of its supply feeds nothing. Where only
    the rail beside has power, it is of the same supply; where that has none either, it is that of another supply
    which feeds nothing; and between gapped joints, which somebody cut to part two supplies, the nearest of a fixed
    supply that is not on their other side.
    """
    conductors = list(conductors)
    parts = parts_of(facts, conductors)
    near, idle = list(dict.fromkeys(wires_outwards(facts, parts))), idle_wires(facts)
    if beside_them := supplies_beside(facts, conductors):
        near = [wire for wire in (*near, *facts.supply_of_wire) if facts.supply_of_wire.get(wire) == beside_them]
        return next(iter(near), "")
    if of_frogs := _of_frogs(facts, parts):
        return of_frogs[0]
    around = facts.supply_of_wire.get(near[0], frozenset()) if near else frozenset()
    feeding = frozenset[str]().union(*(facts.supply_of_wire.get(wire, ()) for wire in near))
    fixed = [wire for wire in facts.supply_of_wire if _is_fixed(facts, wire)]
    likely = [wire for wire in idle if facts.supply_of_wire[wire] == around]
    if not carries(facts, parts) or _on_common_only(facts, parts):
        likely += [wire for wire in idle if not facts.supply_of_wire[wire] & feeding and wire in fixed]
        if beside := beyond_gaps(facts, parts):
            likely += [wire for wire in idle if wire in fixed and not facts.supply_of_wire[wire] & beside]
            others = [wire for wire in near[:MOST_ASKED] if wire in fixed] or fixed
            others.sort(key=lambda wire: _is_of_a_block(facts, wire))
            likely += [wire for wire in others if not facts.supply_of_wire[wire] & beside] + others
    if any(facts.layout.pieces[name].template.bridge for name, _ in parts):
        likely = [wire for wire in idle if is_reversing(facts, wire)] + likely  # whoever buys one for a table uses it
    return next(iter([*likely, *near, *fixed]), "")


def supplies_beside(facts: Facts, conductors: Collection[int]) -> frozenset[str]:
    """The supplies of the rails that lie beside some of plain track, where those have power and are not common: two
    rails of one track are of one supply."""
    if facts.layout.commons:
        return frozenset()
    found = set[frozenset[str]]()
    names = dict.fromkeys(map(facts.piece_of, conductors))
    for name in (name for name in names if facts.layout.pieces[name].template.is_plain):
        metals, first = facts.layout.pieces[name].template.metals, facts.wiring.first[name]
        own = [metal for number, metal in enumerate(metals) if first + number in conductors]
        for number, metal in enumerate(metals):
            if any(one.words != metal.words and one.start < metal.stop and metal.start < one.stop for one in own):
                found.add(frozenset(supply for supply, _ in facts.turning.supplies(first + number)))
    return next(iter(found)) if len(found) == 1 else frozenset()


def _of_frogs(facts: Facts, parts: list[Part]) -> list[str]:
    """The wires that go to the frogs of some parts."""
    feeds = [feed for name, _ in parts for feed in facts.layout.feeds(name)]
    wires = [wire.name for feed in feeds for wire in feed.contacts.values()]
    wires += [feed.supply for feed in feeds if feed.supply]
    return [wire for wire in wires if wire in facts.supply_of_wire]


def beyond_gaps(facts: Facts, parts: list[Part]) -> frozenset[str]:
    """The supplies on the other side, where all ways out of some parts are joints, or cuts within a segment, with both
    rails gapped, or the one that is no common rail; else none."""
    found, enough = frozenset[str](), any if facts.layout.commons else all
    for part in parts:
        for seam in facts.turning.seams_at.get(part, ()):
            if beyond(seam, part) not in parts:
                if (seam.meeting is None and seam.offset is None) or not enough(seam.gapped):
                    return frozenset()
                far = (rails[seam.one == part] for rails, cut in zip(seam.rails, seam.gapped, strict=True) if cut)
                found |= {name for rail in far for name, _ in facts.turning.supplies(rail)}
    return found


def _on_common_only(facts: Facts, parts: list[Part]) -> bool:
    """Whether no wire goes to some parts, which have what power they have from a common rail alone."""
    soldered = {part_of(facts.wiring, drop) for drop in facts.layout.drops}
    return bool(facts.layout.commons) and soldered.isdisjoint(parts)


def carries(facts: Facts, parts: Iterable[Part]) -> bool:
    """Whether these parts have a wire, or any rail that comes to an end of them carries power in some setting."""
    soldered = {part_of(facts.wiring, drop) for drop in facts.layout.drops}
    return not soldered.isdisjoint(parts) or any(
        facts.turning.kinds(rails[seam.one != part])
        for part in parts
        for seam in facts.turning.seams_at.get(part, ())
        for rails in seam.rails
    )


def _is_fixed(facts: Facts, wire: str) -> bool:
    supplies = facts.supply_of_wire.get(wire, frozenset())
    return bool(supplies) and not is_reversing(facts, wire)


def _is_of_a_block(facts: Facts, wire: str) -> bool:
    """Whether a wire comes from blocks alone, each of which is for one stretch: what is left over is the district's."""
    supplies = facts.supply_of_wire.get(wire, frozenset())
    return all(facts.layout.supplies[name].kind == "block" for name in supplies)
