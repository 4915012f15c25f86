"""Parts of track, the seams between them, and the odd cycles that those make: a signed graph.

A seam at which the two looking directions disagree is a - edge. A cycle with an odd number of them leads the left rail
back to the right one (Harary 1953: the graph is balanced exactly when its nodes can be split in two with every - edge
between the halves and every + edge within).
"""

from __future__ import annotations

from collections.abc import Iterable
from functools import cached_property

from railbond.layout.model import Meeting
from trackplan.record import NamedTuple

Part = tuple[str, int]
"""A piece and which part of it: parts lie between the places at which a segment is cut."""


Sides = tuple[tuple[int, int], tuple[int, int]]
"""Before and behind, on the left and on the right."""


class Seam(NamedTuple):
    """Where two parts meet: at a meeting, or (`offset` meters along a segment) at a cut within one.

    `turns` says that the two looking directions disagree. `metals` are those of the two pieces (before, behind) for the
    left and the right rail along `one`'s looking direction, and `first` and `second` the first conductors of these
    pieces: like seams share their metals, for a plan has many.
    """

    one: Part
    other: Part
    turns: bool
    metals: Sides
    gapped: tuple[bool, bool]
    meeting: Meeting | None = None
    offset: float | None = None
    first: int = 0
    second: int = 0

    @property
    def rails(self) -> Sides:
        """The conductors of its metals."""
        (left, far_left), (right, far_right) = self.metals
        first, second = self.first, self.second
        return (first + left, second + far_left), (first + right, second + far_right)


def beyond(seam: Seam, part: Part) -> Part:
    """The part on a seam's other side."""
    return seam.other if seam.one == part else seam.one


class SpanningForest:
    """A spanning forest: for each part its tree, and whether it lies against the tree's root (`signs`)."""

    def __init__(self, parts: list[Part], seams: list[Seam]) -> None:
        self.ties: dict[Part, list[Seam]] = {}
        for seam in seams:
            one, other = seam[0], seam[1]
            self.ties.setdefault(one, []).append(seam)
            if other != one:
                self.ties.setdefault(other, []).append(seam)
        self.signs: dict[Part, tuple[int, bool]] = {}
        self.odd: list[Seam] = []
        for number, root in enumerate(parts):
            if root not in self.signs:
                self._grow(root, number)

    def _grow(self, root: Part, number: int) -> None:
        signs, ties, both = self.signs, self.ties, ((number, False), (number, True))
        signs[root] = both[0]
        queue, told = [root], set[int]()
        for here in queue:
            against = signs[here][1]
            for seam in ties.get(here, ()):
                one, other, turns = seam[:3]
                there = other if one == here else one
                sign, known = both[against != turns], signs.get(there)
                if known is None:
                    signs[there] = sign
                    queue.append(there)
                elif known != sign and id(seam) not in told:
                    told.add(id(seam))
                    self.odd.append(seam)

    @cached_property
    def _above(self) -> dict[Part, tuple[int, Seam | None]]:
        """How deep each part lies below its root, and the seam that leads up: only odd cycles ask. `signs` has the
        parts in the order in which the trees grew."""
        found: dict[Part, tuple[int, Seam | None]] = {}
        for here in self.signs:
            depth, _ = found.setdefault(here, (0, None))
            for seam in self.ties.get(here, ()):
                found.setdefault(seam.other if seam.one == here else seam.one, (depth + 1, seam))
        return found

    def disjoint_odd_cycles(self) -> list[list[Seam]]:
        """Odd cycles that share no part, the short ones first; those that share one are found once it is mended."""
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
            deeper = self._above[here][0] >= self._above[there][0]
            step = self._above[here if deeper else there][1]
            assert step is not None, "a root has no deeper partner"
            if deeper:
                up.append(step)
                here = step.other if step.one == here else step.one
            else:
                down.append(step)
                there = step.other if step.one == there else step.one
        return [seam, *down, *reversed(up)]

    def turns_with(self, seams: Iterable[Seam]) -> bool:
        """Whether these seams, added to the forest, close an odd cycle."""
        trees = [self.between(seam) for seam in seams]
        return bool(SpanningForest([seam.one for seam in trees], trees).odd)

    def between(self, seam: Seam) -> Seam:
        """What a seam is to the trees of the forest, each as one part."""
        (one, against), (other, lies) = self.signs[seam.one], self.signs[seam.other]
        ends, turns = ((str(one), 0), (str(other), 0)), seam.turns != (against != lies)
        return Seam(*ends, turns, seam.metals, seam.gapped, first=seam.first, second=seam.second)
