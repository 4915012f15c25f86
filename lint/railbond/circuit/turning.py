"""Where the track turns back on itself, so that its left rail becomes its right one.

Running rails are followed through every joint and turnout. Every part of a piece has a left and a right rail along
its looking direction; a joint carries each to a rail of the next part. Track turns where some part's left rail
is so led to its own right rail: the odd cycle of a signed graph whose - edges are the joints at which the looking
directions disagree (Harary 1953). The rails are not followed across a cut that parts a reverser's section from
fixed supply on both rails; the two cuts of one end need not lie exactly opposite each other.
"""

from __future__ import annotations

from collections import deque
from typing import NamedTuple

from railbond.layout.model import EndAt, Meeting

from .proof import Proof
from .wiring import Wiring

Part = tuple[str, int]
"""A piece and which part of it: parts lie between the places at which a segment is cut."""


class Seam(NamedTuple):
    """Where two parts meet: at a meeting, or (`offset` metres along a segment) at a cut within one.

    `rails` are the conductors (before, behind) for the left and the right rail along `one`'s looking direction, and
    `turns` says that the two looking directions disagree.
    """

    one: Part
    other: Part
    turns: bool
    rails: tuple[tuple[int, int], tuple[int, int]]
    gapped: tuple[bool, bool]
    meeting: Meeting | None = None
    offset: float | None = None


def seams(wiring: Wiring) -> list[Seam]:
    """Every seam of the layout, meetings first."""
    found = [_meeting_seam(wiring, meeting) for meeting in wiring.layout.meetings]
    for piece in wiring.layout.pieces.values():
        base = wiring.first[piece.name]
        for link in piece.template.links:
            pairs = tuple(
                (base + here, base + there) for here, there in zip(link.rails_one, link.rails_other, strict=True)
            )
            gapped = tuple(here != there for here, there in pairs)
            ends = (piece.name, link.one), (piece.name, link.other)
            found.append(Seam(*ends, False, pairs, gapped, None, link.offset))  # type: ignore[arg-type]
    return found


def _meeting_seam(wiring: Wiring, meeting: Meeting) -> Seam:
    one, other = wiring.end(meeting.one), wiring.end(meeting.other)
    sides = ("left", "right") if one.leaves else ("right", "left")
    rails = tuple(wiring.across(meeting, side) for side in sides)
    gapped = tuple(side in meeting.gaps for side in sides)
    parts = (meeting.one.piece, one.part), (meeting.other.piece, other.part)
    return Seam(*parts, one.leaves == other.leaves, rails, gapped, meeting)  # type: ignore[arg-type]


class Turning:
    """The seams of a layout, which of them part a reverser from fixed supply, and what turns all the same.

    With `fixed`, that reverser is taken for a plain district.
    """

    def __init__(self, wiring: Wiring, proof: Proof, fixed: str | None = None) -> None:
        self.wiring = wiring
        self.proof = proof
        self.fixed = fixed
        self.seams = seams(wiring)
        self._kinds: dict[int, frozenset[str]] = {}

    def supplies(self, conductor: int) -> frozenset[tuple[str, str]]:
        """The supplies (name, kind) that a conductor carries in some setting, frog units left out."""
        sources = (way.source for way in self.proof.ways(conductor))
        return frozenset((source.supply, source.kind) for source in sources if source.kind != "unit")

    def kinds(self, conductor: int) -> frozenset[str]:
        """`fixed`, `reverser`, both or neither."""
        if conductor not in self._kinds:
            supplies = self.supplies(conductor)
            self._kinds[conductor] = frozenset("fixed" if name == self.fixed else kind for name, kind in supplies)
        return self._kinds[conductor]

    def parts_supplies(self, seam: Seam) -> bool:
        """Whether the seam's cuts keep a reverser's section from fixed supply: on both rails, or on one where the
        other rail's cut lies elsewhere (it then carries only one of the two kinds here)."""
        cut = [rails for rails, gapped in zip(seam.rails, seam.gapped, strict=True) if gapped]
        whole = [rails for rails, gapped in zip(seam.rails, seam.gapped, strict=True) if not gapped]
        if not cut or any(len(self.kinds(before)) != 1 for before, _ in whole):
            return False
        sides = [frozenset[str]().union(*(self.kinds(rails[side]) for rails in cut)) for side in (0, 1)]
        return {frozenset(sides[0]), frozenset(sides[1])} == {frozenset({"fixed"}), frozenset({"reverser"})}

    def odd_cycles(self) -> list[list[Seam]]:
        """Odd cycles that share no part, short ones first found; empty when nothing turns unguarded."""
        ties: dict[Part, list[Seam]] = {}
        for seam in self.seams:
            if not self.parts_supplies(seam):
                for part in {seam.one, seam.other}:
                    ties.setdefault(part, []).append(seam)
        return _Walk(ties).disjoint_cycles()


class _Walk:
    """A spanning forest of the parts with the sign of each path from its root."""

    def __init__(self, ties: dict[Part, list[Seam]]) -> None:
        self.sign: dict[Part, bool] = {}
        self.before: dict[Part, Seam | None] = {}
        self.depth: dict[Part, int] = {}
        self.odd: list[Seam] = []
        for root in ties:
            if root not in self.sign:
                self._grow(root, ties)

    def _grow(self, root: Part, ties: dict[Part, list[Seam]]) -> None:
        self.sign[root], self.before[root], self.depth[root] = False, None, 0
        queue = deque([root])
        while queue:
            here = queue.popleft()
            for seam in ties[here]:
                there = seam.other if seam.one == here else seam.one
                sign = self.sign[here] != seam.turns
                if there not in self.sign:
                    self.sign[there], self.before[there] = sign, seam
                    self.depth[there] = self.depth[here] + 1
                    queue.append(there)
                elif sign != self.sign[there] and seam.one == here:
                    self.odd.append(seam)

    def disjoint_cycles(self) -> list[list[Seam]]:
        cycles: list[list[Seam]] = []
        used: set[Part] = set()
        for cycle in sorted(map(self._close, self.odd), key=len):
            parts = {part for seam in cycle for part in (seam.one, seam.other)}
            if not parts & used:
                used |= parts
                cycles.append(cycle)
        return cycles

    def _close(self, seam: Seam) -> list[Seam]:
        """The cycle that a seam closes with the tree, in the order in which one walks round it."""
        here, there = seam.one, seam.other
        up: list[Seam] = []
        down: list[Seam] = []
        while here != there:
            deeper = self.depth[here] >= self.depth[there]
            step = self.before[here if deeper else there]
            assert step is not None, "a root has no deeper partner"
            if deeper:
                up.append(step)
                here = step.other if step.one == here else step.one
            else:
                down.append(step)
                there = step.other if step.one == there else step.one
        return [seam, *down, *reversed(up)]


def end_of(seam: Seam, part: Part) -> EndAt | None:
    """The end of a part's piece at a seam that is a meeting."""
    if seam.meeting is None:
        return None
    return seam.meeting.one if seam.one == part else seam.meeting.other
