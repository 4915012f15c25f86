"""A line through the picture, straight stretches and bends, that can be followed at a distance to either side.

Places are in the picture's own axes, y downwards; sideways counts to the left of where the line leads.
"""

from __future__ import annotations

from bisect import bisect_right
from copy import copy
from itertools import accumulate
from math import atan2, copysign, cos, hypot, pi, sin, tan
from typing import NamedTuple

from .scale import BEND

Point = tuple[float, float]


class Vertex(NamedTuple):
    at: Point
    radius: float = BEND


class Straight(NamedTuple):
    """A straight line; `step` is one unit along it."""

    start: Point
    heading: float
    length: float
    step: Point

    def at(self, along: float, aside: float) -> Point:
        (x, y), (dx, dy) = self.start, self.step
        return x + dx * along + dy * aside, y + dy * along - dx * aside

    def turned(self, along: float) -> float:
        return self.heading

    def path(self, along: float, aside: float) -> str:
        x, y = self.at(along, aside)
        return f"L{x:.1f} {y:.1f}"


class Bend(NamedTuple):
    """Part of a circle; `radius` is negative where it bends to the left."""

    middle: Point
    heading: float
    length: float
    radius: float

    def turned(self, along: float) -> float:
        return self.heading + along / self.radius

    def at(self, along: float, aside: float) -> Point:
        heading, far = self.turned(along), self.radius + aside
        return self.middle[0] + sin(heading) * far, self.middle[1] - cos(heading) * far

    def path(self, along: float, aside: float) -> str:
        x, y = self.at(along, aside)
        far = abs(self.radius + aside)
        return f"A{far:.1f} {far:.1f} 0 0 {int(self.radius > 0)} {x:.1f} {y:.1f}"


class Course:
    """A polyline whose corners are rounded: each with its own radius, or less where there is no room for it."""

    def __init__(self, corners: list[Vertex]) -> None:
        self.parts: list[Straight | Bend] = []
        kept = _distinct(corners)
        here = kept[0].at
        for before, corner, after in zip(kept, kept[1:], [*kept[2:], None], strict=False):
            here = self._go(before.at, here, corner, after.at if after else None)
        self.marks = [0.0, *accumulate(part.length for part in self.parts)]
        self.anew: tuple[int, ...] = ()
        """The parts that begin elsewhere than the one before ends."""
        self._hash: int | None = None
        self._paths: dict[tuple[float, float, float], str] = {}

    @property
    def shape(self) -> tuple[object, ...]:
        """All that it is."""
        return tuple(self.parts), self.anew

    def __eq__(self, other: object) -> bool:
        return self is other or (isinstance(other, Course) and self.shape == other.shape)

    def __hash__(self) -> int:
        if self._hash is None:
            self._hash = hash(self.shape)
        return self._hash

    def joined(self, other: Course) -> Course:
        """This line, and then another that begins elsewhere."""
        whole = copy(self)
        whole._hash, whole._paths = None, {}
        whole.parts = [*self.parts, *other.parts]
        whole.marks = [*self.marks, *(self.length + one for one in other.marks[1:])]
        whole.anew = (*self.anew, *(len(self.parts) + one for one in (0, *other.anew)))
        return whole

    @property
    def jumps(self) -> list[float]:
        """Where along it the line goes on elsewhere."""
        return [self.marks[one] for one in self.anew]

    @property
    def length(self) -> float:
        return self.marks[-1]

    def _go(self, before: Point, here: Point, to: Vertex, after: Point | None) -> Point:
        """A straight stretch to the bend at a corner, and the bend; gives where that ends."""
        corner = to.at
        heading = atan2(corner[1] - before[1], corner[0] - before[0])
        step = cos(heading), sin(heading)
        angle = 0.0 if after is None else _angle(heading, atan2(after[1] - corner[1], after[0] - corner[0]))
        room = hypot(corner[0] - here[0], corner[1] - here[1])
        if after is None or abs(angle) < 1e-6:
            self.parts.append(Straight(here, heading, room, step))
            return corner
        beyond = hypot(after[0] - corner[0], after[1] - corner[1])
        cut = min(to.radius * tan(abs(angle) / 2), room, beyond / 2)
        self.parts.append(Straight(here, heading, room - cut, step))
        start = self.parts[-1].at(room - cut, 0)
        bend = copysign(cut / tan(abs(angle) / 2), angle)
        middle = start[0] - sin(heading) * bend, start[1] + cos(heading) * bend
        self.parts.append(Bend(middle, heading, abs(angle * bend), bend))
        return self.parts[-1].at(abs(angle * bend), 0)

    def _part(self, along: float) -> tuple[Straight | Bend, float]:
        marks = self.marks
        along = 0.0 if along < 0 else marks[-1] if along > marks[-1] else along
        number = bisect_right(marks, along, 0, len(self.parts)) - 1
        return self.parts[number], along - marks[number]

    def at(self, along: float, aside: float = 0) -> Point:
        """The point so far along the line, and so far to its left."""
        part, rest = self._part(along)
        return part.at(rest, aside)

    def heading(self, along: float) -> float:
        """Where the line leads there: radians clockwise from the east, as y runs downwards."""
        part, rest = self._part(along)
        return part.turned(rest)

    def path(self, start: float, stop: float, aside: float = 0) -> str:
        """The line from one place to another as SVG path data; what is typed moves few lines, so it is kept."""
        known = self._paths.get((start, stop, aside))
        if known is None:
            known = self._paths[start, stop, aside] = self._path(start, stop, aside)
        return known

    def _path(self, start: float, stop: float, aside: float) -> str:
        x, y = self.at(start, aside)
        drawn = [f"M{x:.1f} {y:.1f}"]
        marks = self.marks
        for number in range(max(bisect_right(marks, start) - 1, 0), len(self.parts)):
            part, first, last = self.parts[number], marks[number], marks[number + 1]
            if first >= stop:
                break
            if part.length:
                if number in self.anew and first > start:
                    x, y = part.at(0, aside)
                    drawn.append(f"M{x:.1f} {y:.1f}")
                drawn.append(part.path(min(stop, last) - first, aside))
        return "".join(drawn)


def _distinct(corners: list[Vertex]) -> list[Vertex]:
    kept = [corners[0]]
    for corner in corners[1:]:
        if hypot(corner.at[0] - kept[-1].at[0], corner.at[1] - kept[-1].at[1]) > 0.01:
            kept.append(corner)
    return kept


def _angle(one: float, other: float) -> float:
    """From one heading to another, between a half turn to either side."""
    return (other - one + pi) % (2 * pi) - pi
