"""Which leg each rail asks for, before there is a wire: track that hangs together has one left and one right."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from itertools import pairwise

from railbond.circuit.facts import Facts
from railbond.circuit.polarity import crossed_wires, part_side
from railbond.circuit.signed_graph import Part, Seam, SpanningForest
from railbond.fixes.section import part_length
from railbond.layout.model import Piece

from .track_map import one_metal

Territory = Mapping[Part, str]
"""The supply that feeds each part."""


SAYS_LITTLE = 1e-6
"""What a meter of bare track weighs beside a wire."""


class Orientation:
    """The polarity of each stretch of track that no reverser's boundary parts: as most of its wires, or else its
    endplates, have it; where there are none, such that as little as can be is crossed."""

    def __init__(self, facts: Facts, territory: Territory) -> None:
        self.facts = facts
        parts = [
            (name, number) for name, piece in facts.layout.pieces.items() for number in range(piece.template.parts)
        ]
        seams = [seam for seam in facts.turning.seams if not is_boundary(facts, territory, seam)]
        ties = [*seams, *table_ties(facts)]
        self.forest = SpanningForest(parts, [*ties, *frog_ties(facts)])
        if self.forest.odd:
            self.forest = SpanningForest(parts, ties)
        self.crossed = crossed_wires(facts.wiring)
        self.votes: dict[int, float] = {}
        for part in parts:
            tree, against = self.forest.signs[part]
            own = part_length(facts, part) * SAYS_LITTLE
            self.votes[tree] = self.votes.get(tree, 0.0) + (-own if against else own)
        for drop in facts.layout.drops:
            leg = drop.wire.leg ^ self.crossed.get(drop.wire.name, False)
            self._vote(drop.piece, drop.metal, leg, 1.0)
        for edge in facts.layout.edges.values():
            if edge.end is not None and edge.left is not None:
                metal = facts.layout.pieces[edge.end.piece].template.ends[edge.end.end].left
                self._vote(edge.end.piece, metal, edge.left, 0.4)

    def _vote(self, piece: str, metal: int, leg: int, weight: float) -> None:
        part, left = part_side(self.facts.wiring, piece, metal)
        tree, against = self.forest.signs[part]
        stands = (leg == 0) == (left != against)
        self.votes[tree] = self.votes.get(tree, 0.0) + (weight if stands else -weight)

    def leg(self, wire: str, piece: str, metal: int) -> int:
        """The leg (0 or 1) of a supply or terminal that a rail asks for."""
        part, left = part_side(self.facts.wiring, piece, metal)
        tree, against = self.forest.signs[part]
        plus = (left != against) == (self.votes.get(tree, 0.0) >= 0)
        return int((not plus) ^ self.crossed.get(wire, False))

    def crosses(self, wire: str, piece: str) -> bool:
        """Whether a pair from a wire to a segment must be crossed."""
        metals = self.facts.layout.pieces[piece].template.metals
        left = next(index for index, metal in enumerate(metals) if metal.words == "left rail")
        return self.leg(wire, piece, left) == 1


def table_ties(facts: Facts) -> Iterator[Seam]:
    """What ties the tracks of a table to its bridge: its rails should agree with those of each track that it comes to.
    A turntable's ring is thought to be split where the gap between its tracks is widest."""
    for piece in facts.layout.pieces.values():
        bridge, headings = piece.template.bridge, piece.template.headings
        split = widest(headings.values())
        for step in piece.template.passes if bridge else ():
            if bridge and bridge[0] in (step.one, step.other):
                rail = step.other if step.one == bridge[0] else step.one
                part, left = part_side(facts.wiring, piece.name, rail)
                turned = bool(headings) and (headings[step.route or ""] - split) % 360 >= 180
                yield Seam((piece.name, 0), part, left == turned, ((0, 0), (0, 0)), (False, False))


def frog_ties(facts: Facts) -> Iterator[Seam]:
    """What ties two tracks that cross: where a wheel rolls over metal of the other track's rail, as at the obtuse frogs
    of a crossing, that rail must have its polarity."""
    for piece in facts.layout.pieces.values():
        if piece.template.parts > 1 and not piece.template.bridge and not piece.template.links:
            yield from _crossing_ties(facts, piece)


def _crossing_ties(facts: Facts, piece: Piece) -> Iterator[Seam]:
    whole, sides = one_metal(piece.template), dict[int, tuple[int, bool]]()
    for end in piece.template.ends.values():
        sides[whole[end.left]], sides[whole[end.right]] = (end.part, end.leaves), (end.part, not end.leaves)
    met = dict[tuple[int, int], Seam]()
    for step in piece.template.passes:
        one, other = sides.get(whole[step.one]), sides.get(whole[step.other])
        if one and other and one[0] != other[0]:
            parts = (piece.name, one[0]), (piece.name, other[0])
            met[one[0], other[0]] = Seam(*parts, one[1] != other[1], ((0, 0), (0, 0)), (False, False))
    yield from met.values()


def widest(headings: Iterable[float]) -> float:
    """The middle of the widest gap between some headings, where an end of the bridge may pass it, in degrees."""
    marks = sorted({heading % 180 for heading in headings})
    gaps = [
        (after - before, (before + after) / 2) for before, after in pairwise([*marks, *(m + 180 for m in marks[:1])])
    ]
    return max(gaps, default=(0.0, 0.0))[1] % 180


def is_boundary(facts: Facts, territory: Territory, seam: Seam) -> bool:
    """Whether a seam parts a reverser's section from other track."""
    one, other = territory.get(seam.one, ""), territory.get(seam.other, "")
    supplies = facts.layout.supplies
    kinds = [supplies[name].kind if name in supplies else "" for name in (one, other)]
    return one != other and "reverser" in kinds
