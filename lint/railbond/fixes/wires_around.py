"""Which wire a stretch of track without power has lost: the nearest one, or one that is idle."""

from __future__ import annotations

import re
from collections.abc import Collection, Iterable, Iterator
from functools import lru_cache

from railbond.circuit.balance import beyond
from railbond.circuit.facts import Facts
from railbond.circuit.keeping import once
from railbond.circuit.polarity import lies_in, part_of
from railbond.circuit.signed_graph import Part
from railbond.layout.model import Piece
from railbond.layout.order import by_name

SHORTEST_WORD = 3
"""Letters of a word by which two names may be alike."""

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


def parts_of(facts: Facts, conductors: Iterable[int]) -> list[Part]:
    """The parts in which some rails lie."""
    pieces = ((conductor, facts.piece_of(conductor)) for conductor in conductors)
    return list(dict.fromkeys(lies_in(facts.wiring, name, one - facts.wiring.first[name]) for one, name in pieces))


def parts_around(facts: Facts, piece: Piece) -> list[Part]:
    """The parts in which the rails of a piece lie that are no frogs."""
    if piece.template.parts == 1:
        return [(piece.name, 0)]
    rails = enumerate(piece.template.metals, facts.wiring.first[piece.name])
    return parts_of(facts, [rail for rail, metal in rails if not metal.frog])


def carries(facts: Facts, parts: Iterable[Part]) -> bool:
    """Whether these parts have a wire, or any rail that comes to an end of them carries power in some setting."""
    soldered = {part_of(facts.wiring, drop) for drop in facts.layout.drops}
    return not soldered.isdisjoint(parts) or any(
        facts.turning.kinds(rails[seam.one != part])
        for part in parts
        for seam in facts.turning.seams_at.get(part, ())
        for rails in seam.rails
    )


def idle_wires(facts: Facts) -> list[str]:
    """Terminals, and supplies without a bus run, from which no wire goes anywhere."""
    layout = facts.layout
    used = {drop.wire.name for drop in layout.drops} | {run.source for run in layout.runs}
    used |= {wire.name for feed in layout.frogs.values() for wire in feed.contacts.values()}
    used |= {feed.supply for feed in layout.frogs.values() if feed.supply}
    used = used.union(*({supply.district or "", *supply.hangs_on} for supply in layout.supplies.values()))
    names = (*sorted(layout.terminals, key=by_name), *sorted(layout.supplies, key=by_name))
    return [name for name in names if name not in used and name in facts.supply_of_wire]


def is_reversing(facts: Facts, wire: str) -> bool:
    """Whether a wire comes from an auto-reverser."""
    return any(facts.layout.supplies[name].kind == "reverser" for name in facts.supply_of_wire.get(wire, ()))


def _is_fixed(facts: Facts, wire: str) -> bool:
    supplies = facts.supply_of_wire.get(wire, frozenset())
    return bool(supplies) and not is_reversing(facts, wire)


def _is_of_a_block(facts: Facts, wire: str) -> bool:
    """Whether a wire comes from blocks alone, each of which is for one stretch: what is left over is the district's."""
    supplies = facts.supply_of_wire.get(wire, frozenset())
    return all(facts.layout.supplies[name].kind == "block" for name in supplies)


def wires_outwards(facts: Facts, parts: Iterable[Part]) -> Iterator[str]:
    """The wires of all drops, the nearest first: along the track, over gaps too, but not out of or into a reverser's
    section."""
    wires = _wires_at(facts)
    for part in _spreading(facts, parts) if wires else ():
        yield from wires.get(part, ())


@once
def _wires_at(facts: Facts) -> dict[Part, list[str]]:
    """The wires of the drops to each part."""
    wires: dict[Part, list[str]] = {}
    for drop in facts.layout.drops:
        wires.setdefault(part_of(facts.wiring, drop), []).append(drop.wire.name)
    for own in wires.values():
        if own.count(own[0]) < len(own):
            own.sort(key=by_name)
    return wires


def _spreading(facts: Facts, parts: Iterable[Part]) -> Iterator[Part]:
    """The parts around, the nearest first; what is joined by metal is nearer than what lies beyond gaps."""
    from heapq import heapify, heappop, heappush

    ties, seen = facts.turning.forest.ties, dict.fromkeys(parts)
    queue = [(0, 0, part) for part in seen]
    heapify(queue)
    while queue:
        gaps, steps, here = heappop(queue)
        yield here
        for seam in ties.get(here, ()):
            there = seam.other if seam.one == here else seam.one
            if there not in seen:
                seen[there] = None
                heappush(queue, (gaps + (seam.gapped == (True, True)), steps + 1, there))
        for there in _over_the_pit(facts, here):
            if there not in seen:
                seen[there] = None
                heappush(queue, (gaps + 1, steps + 1, there))


def _over_the_pit(facts: Facts, part: Part) -> list[Part]:
    """The bridge of a table and all tracks that it comes to, which are parted as if by a gap; the bridge first."""
    template = facts.layout.pieces[part[0]].template
    if not template.bridge:
        return []
    return [(part[0], number) for number in range(template.parts) if number != part[1]]


def share_a_word(one: str, other: str) -> bool:
    """Whether two names share a word, or one has the beginning of the other's: `east` and `east-main`, `sid` and
    `siding`."""
    return are_shared(words_of(one), words_of(other))


def are_shared(some: Iterable[str], others: Iterable[str]) -> bool:
    """The same of the words of two names."""
    return any(here.startswith(there) or there.startswith(here) for here in some for there in others)


@lru_cache(4096)
def words_of(name: str) -> frozenset[str]:
    """The words of a name that are long enough to mean something."""
    words = re.split(r"[^a-z]+", name.rpartition(".")[2].lower())
    return frozenset(word for word in words if len(word) >= SHORTEST_WORD)
