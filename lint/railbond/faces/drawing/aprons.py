"""How far each track runs on straight from the edge of a round pit, before it turns to where it leaves level."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from itertools import pairwise
from math import hypot
from typing import NamedTuple

from .course import Point
from .scale import GAUGE

APRON = 16.0
"""The least that a track runs on straight."""
LENGTHS = (APRON, 24.0, 34.0, 46.0, 60.0, 80.0, 105.0, 140.0, 190.0)
"""What is tried, the shortest first."""
LEVEL = 14.0
"""How much of a track is level at its end."""
NEAR = GAUGE + 8
"""Between the middles of two tracks."""
ROUNDS = 4


class PitTrack(NamedTuple):
    """A track in the directions of its `step` from the pit's middle, and where it ends, level."""

    step: Point
    end: Point


class Aprons:
    """The shortest lengths with which the tracks on one side of a pit lie clear of its edge and of each other.

    Tracks are given in the order of their ends. Each is looked at beside its two neighbors only, the steepest last and
    a few times over: a heuristic, which keeps the least harm where no length is clear.
    """

    def __init__(self, middle: Point, radius: float, tracks: Sequence[PitTrack]) -> None:
        self.middle, self.radius, self.tracks = middle, radius, tracks
        self.lengths = [0.0] * len(tracks)
        order = sorted(range(len(tracks)), key=lambda number: abs(tracks[number].step[1]))
        for _ in range(ROUNDS):
            before = list(self.lengths)
            for number in order:
                self.lengths[number] = self._best(number)
            if self.lengths == before:
                break

    def _best(self, number: int) -> float:
        least, best = float("inf"), APRON
        beside = [one for one in (number - 1, number + 1) if 0 <= one < len(self.tracks) and self.lengths[one]]
        around = [(self._corners(one, self.lengths[one]), self._apart(number, one)) for one in beside]
        for length in LENGTHS:
            own = self._corners(number, length)
            harm = max(self.radius + GAUGE / 2 + 4 - _from_point(self.middle, own[1], own[2]), 0.0)
            harm += sum(max(apart - _between(own, other), 0.0) for other, apart in around)
            if harm < least - 1:
                least, best = harm, length
            if not harm:
                break
        return best

    def _corners(self, number: int, length: float) -> list[Point]:
        (dx, dy), end = self.tracks[number]
        (x, y), far = self.middle, self.radius + length
        rim = x + dx * self.radius, y + dy * self.radius
        return [rim, (x + dx * far, y + dy * far), (end[0] - (LEVEL if end[0] > x else -LEVEL), end[1]), end]

    def _apart(self, one: int, other: int) -> float:
        """How far two tracks can be from each other: no further than at the pit's edge."""
        (a, b), (c, d) = self.tracks[one].step, self.tracks[other].step
        return min(NEAR, hypot(a - c, b - d) * self.radius) - 0.5


def aprons(middle: Point, radius: float, steps: Mapping[str, Point], ends: Mapping[str, Point]) -> dict[str, float]:
    """The length of each track's apron; `steps` leads one unit from the pit's middle toward its place at the edge."""
    found: dict[str, float] = {}
    for east in (False, True):
        own = sorted((name for name in ends if (ends[name][0] > middle[0]) == east), key=lambda name: ends[name][1])
        lengths = Aprons(middle, radius, [PitTrack(steps[name], ends[name]) for name in own]).lengths
        found |= dict(zip(own, lengths, strict=True))
    return found


def _between(one: Sequence[Point], other: Sequence[Point]) -> float:
    """How near two lines of several corners come to each other."""
    return min(_parted(*first, *second) for first in pairwise(one) for second in pairwise(other))


def _parted(a: Point, b: Point, c: Point, d: Point) -> float:
    if _side(a, b, c) * _side(a, b, d) < 0 and _side(c, d, a) * _side(c, d, b) < 0:
        return 0.0
    return min(_from_point(a, c, d), _from_point(b, c, d), _from_point(c, a, b), _from_point(d, a, b))


def _side(a: Point, b: Point, c: Point) -> float:
    return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])


def _from_point(at: Point, one: Point, other: Point) -> float:
    """How far a point lies from a straight line between two others."""
    (x, y), dx, dy = one, other[0] - one[0], other[1] - one[1]
    share = ((at[0] - x) * dx + (at[1] - y) * dy) / ((dx * dx + dy * dy) or 1)
    share = min(max(share, 0.0), 1.0)
    return hypot(at[0] - x - dx * share, at[1] - y - dy * share)
