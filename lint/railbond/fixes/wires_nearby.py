"""The wires around a stretch of track, the nearest first, those that are idle, and what their names have in common."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from functools import lru_cache

from railbond.circuit.facts import Facts
from railbond.circuit.keeping import once
from railbond.circuit.polarity import lies_in, part_of
from railbond.circuit.signed_graph import Part
from railbond.layout.model import Piece
from railbond.layout.order import by_name

SHORTEST_WORD = 3
"""Letters of a word by which two names may be alike."""


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
    letters = (letter if "a" <= letter <= "z" else " " for letter in name.rpartition(".")[2].lower())
    return frozenset(word for word in "".join(letters).split() if len(word) >= SHORTEST_WORD)
