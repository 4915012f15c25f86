"""The parts of a railroad between which no current flows, however points and contacts stand: each is solved by itself.

What is laid of a region alone is what is laid of it within the whole plan, in the same order, so that its ohms are the
same to the last digit. Of a plan that was changed in the head only the regions that are other are solved anew.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from railbond.circuit.graph import Bond, SupplyLeg, joined
from railbond.circuit.wiring import Wiring
from railbond.layout.model import CommonRail, Drop, Meeting, Piece, Run
from trackplan.record import NamedTuple


class PowerRegion(NamedTuple):
    """What lies in it, each in the plan's order."""

    pieces: dict[str, Piece]
    meetings: list[Meeting]
    drops: list[Drop]
    runs: list[Run]
    commons: list[CommonRail]
    bonds: list[Bond]
    sources: dict[int, SupplyLeg]

    def wiring(self, whole: Wiring) -> Wiring:
        """The rail graph of the whole plan with nothing in it but this."""
        pieces, meetings, drops, runs, commons, bonds, sources = self
        layout = whole.layout._replace(pieces=pieces, meetings=meetings, drops=drops, runs=runs, commons=commons)
        return whole._replace(layout=layout, graph=whole.graph._replace(bonds=bonds, sources=sources))


class Regions:
    """The regions of a plan, by their numbers, and the number of each conductor's."""

    def __init__(self, wiring: Wiring, like: Regions | None = None) -> None:
        """`like` are those of a plan of the same metal: where its bonds are these, what hangs together is known."""
        self.wiring = wiring
        is_known = like is not None and like.wiring.graph.bonds == wiring.graph.bonds
        self.number: list[int] = like.number if like and is_known else joined(len(wiring.graph.names), _joined(wiring))
        self.all: dict[int, PowerRegion] = {}
        layout, number, at = wiring.layout, self.number, self._at
        for name, piece in layout.pieces.items():
            at(wiring.first[name]).pieces[name] = piece
        for meeting in layout.meetings:
            one, other = (wiring.first[end.piece] for end in (meeting.one, meeting.other))
            if number[one] == number[other]:
                at(one).meetings.append(meeting)
        for drop in layout.drops:
            at(wiring.wires[drop.wire.name]).drops.append(drop)
        for run in layout.runs:
            at(wiring.wires[run.source]).runs.append(run)
        for common in layout.commons:
            at(wiring.wire(common.legs[0])).commons.append(common)
        for bond in wiring.graph.bonds:
            at(bond[0]).bonds.append(bond)
        for conductor, source in wiring.graph.sources.items():
            at(conductor).sources[conductor] = source

    def _at(self, conductor: int) -> PowerRegion:
        number = self.number[conductor]
        found = self.all.get(number)
        if found is None:
            found = self.all[number] = PowerRegion({}, [], [], [], [], [], {})
        return found

    def of_supply(self, name: str) -> PowerRegion:
        """That of a supply or terminal."""
        return self.all[self.number[self.wiring.wires[name]]]


def _joined(wiring: Wiring) -> Iterator[tuple[int, int]]:
    """Whatever is ever joined; the rails of a piece are, for a short between them is asked about, and so are the two
    legs of a wire."""
    for one, other, *_ in wiring.graph.bonds:
        yield one, other
    for drop in wiring.layout.drops:
        yield wiring.wire(drop.wire), wiring.metal(drop.piece, drop.metal)
    for name, piece in wiring.layout.pieces.items():
        first = wiring.first[name]
        yield from pairwise(range(first, first + len(piece.template.metals)))
    for base in wiring.wires.values():
        yield base, base + 1


def is_same_metal(one: Wiring, other: Wiring) -> bool:
    """Whether conductors have the same numbers in two plans, and what is said of all wires and rails is the same."""
    here, there = one.layout, other.layout
    said = (here.limits, here.rails, here.scale, here.soldered) == (
        there.limits, there.rails, there.scale, there.soldered
    )  # fmt: skip
    return said and one.first == other.first and one.wires == other.wires
