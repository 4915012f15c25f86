"""Tables in their pits: a turntable's circle with its tracks at their angles, a transfer table's pit with its tracks at
their distances, and the bridge at those to which it is set."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import pairwise, product
from math import cos, pi, radians, sin

from railbond.layout.model import EndAt, Piece
from trackplan.quantities import Angle

from .course import Course, Point, Vertex
from .scale import GAUGE, LANE, TRIM
from .scene import Cell
from .strokes import Cuts, Stroke, aside

LEAST_RADIUS, MOST_RADIUS = 50.0, 210.0
APRON = 16.0
"""How far a track runs on straight from the pit's edge."""
RING = 0.27
"""The radius of a split ring, of that of its pit."""
NEAR = GAUGE + 8
"""Between the middles of two tracks at the edge of a pit."""


def radius(piece: Piece) -> float:
    """How large a turntable's circle is: so that no two tracks touch at its edge."""
    angles = sorted(place % 360 for place in piece.template.outline.places.values())
    gaps = [b - a for a, b in pairwise(angles)] + ([360 + angles[0] - angles[-1]] if len(angles) > 1 else [])
    return min(max(LEAST_RADIUS, NEAR / radians(max(min(gaps, default=90.0), 1.0))), MOST_RADIUS)


def reach(piece: Piece, west: int, east: int) -> int:
    """How far east and west of its middle a table's tracks come to their lanes; so many come from either side."""
    if not piece.template.bridge:
        return 46
    across = radius(piece) if piece.template.outline.round else 44.0
    tall = max(west, east) * LANE / 2
    return round(across + APRON + 14 + 0.5 * max(tall - across * 0.8, 0))


class PitWork:
    """A table in its cell, with its pit's edge, its tracks and its bridge."""

    def __init__(self, piece: Piece, cell: Cell) -> None:
        self.piece, self.cell = piece, cell
        self.round = piece.template.outline.round
        self.radius = radius(piece)
        self.places = piece.template.outline.places
        if not self.round:
            self._measure()
        self.way = -1 if self._turned() else 1
        self.frogs: dict[int, Point] = {}
        self.out = self._aprons()

    def _measure(self) -> None:
        """The scale of a transfer table's pit, in which its nearest two tracks just do not touch."""
        sides: dict[bool, list[float]] = {True: [], False: []}
        for name, (x, _) in self.cell.ends.items():
            sides[x > self.cell.at[0]].append(self.places[name])
        gaps = [b - a for side in sides.values() for a, b in pairwise(sorted(side))]
        self.scale = NEAR / max(min(gaps, default=NEAR), 1e-3)
        low, high = min(self.places.values()), max(self.places.values())
        self.scale = min(self.scale, 900 / max(high - low, 1e-3))
        self.middle_place, self.half = (low + high) / 2, (high - low) / 2 * self.scale + NEAR

    def _aprons(self) -> dict[str, float]:
        """How far each track runs on straight: further, the steeper it leaves, until it passes clear of the next."""
        out = dict.fromkeys(self.cell.ends, APRON)
        for side, half in product((-1, 1), (-1, 1)) if self.round else ():
            far = 0.0
            own = [name for name, (x, _) in self.cell.ends.items() if (x - self.cell.at[0]) * side > 0]
            rise = {name: half * sin(self.heading(self.places[name])) for name in own}
            for name in sorted((name for name in own if rise[name] > 0.2), key=rise.__getitem__):
                out[name] = max(APRON, far / rise[name] - self.radius)
                far = (self.radius + out[name]) * rise[name] + NEAR
        return out

    def _turned(self) -> bool:
        """Whether the picture shows the piece end for end."""
        for name, (x, _) in self.cell.ends.items():
            if not self.round:
                return (x > self.cell.at[0]) != self._far(name)
            if abs(cos(radians(self.places[name]))) > 1e-6:
                return (x > self.cell.at[0]) != (cos(radians(self.places[name])) > 0)
        return False

    def _far(self, name: str) -> bool:
        return name in self.piece.template.outline.east

    def heading(self, place: float) -> float:
        """Radians clockwise from the east, as y runs downwards."""
        return -radians(place) + (0 if self.way > 0 else pi)

    def rim(self, name: str, out: float = 0.0) -> Point:
        """Where a track comes to the pit's edge, or so far outwards from there."""
        (x, y), place = self.cell.at, self.places[name]
        if self.round:
            heading = self.heading(place)
            return x + cos(heading) * (self.radius + out), y + sin(heading) * (self.radius + out)
        side = 1 if self.cell.ends[name][0] > x else -1
        return x + side * (44 + out), y - self.way * (place - self.middle_place) * self.scale

    def course(self, name: str) -> Course:
        """A track from the pit's edge outwards."""
        return Course([Vertex(point, 24) for point in (*self._corners(name), self.cell.ends[name])])

    def bridge(self, position: str | None) -> Course | None:
        """The bridge from its tail to its head end."""
        template, (x, y) = self.piece.template, self.cell.at
        if position is None or not template.bridge:
            return None
        if self.round:
            heading, far = self.heading(template.headings[position]), self.radius - TRIM
            dx, dy = cos(heading) * far, sin(heading) * far
            return Course([Vertex((x - dx, y - dy)), Vertex((x + dx, y + dy))])
        at = y - self.way * (self.places[position] - self.middle_place) * self.scale
        return Course([Vertex((x - self.way * (44 - TRIM), at)), Vertex((x + self.way * (44 - TRIM), at))])

    def line(self, enter: str, leave: str) -> str:
        """The middle of the track from one approach track over the bridge to another, as SVG path data."""
        points = [self.cell.ends[enter], *(self._corners(enter)[::-1]), *self._corners(leave), self.cell.ends[leave]]
        course = Course([Vertex(point, 24) for point in points])
        return course.path(0, course.length)

    def runs_back(self, enter: str, leave: str) -> bool:
        """Whether `line` runs from the second end to the first: it never does."""
        return False

    def _corners(self, name: str) -> list[Point]:
        end = self.cell.ends[name]
        return [
            self.rim(name),
            self.rim(name, self.out[name]),
            (end[0] - (14 if end[0] > self.cell.at[0] else -14), end[1]),
        ]

    def strokes(self, cuts: Cuts) -> Iterator[Stroke]:
        """The tracks round the pit."""
        for name, end in self.piece.template.ends.items():
            if name in self.cell.ends:
                course = self.course(name)
                for side in ("left", "right"):
                    stop = course.length - cuts.trim(EndAt(self.piece.name, name), side)
                    yield Stroke(self.piece.name, end.side(side), course.path(0, stop, aside(side)))

    def bridge_strokes(self, position: str | None) -> Iterator[Stroke]:
        course, metals = self.bridge(position), self.piece.template.bridge
        for side, metal in zip(("left", "right"), metals or (), strict=False):
            if course:
                yield Stroke(self.piece.name, metal, course.path(0, course.length, aside(side)))

    def ring(self, split: float, positions: Iterable[str]) -> Point:
        """Where a wire joins the half of a split ring on which the bridge's head end stands in these positions."""
        headings = self.piece.template.headings
        half = split + 180 * ((headings[next(iter(positions))] - split) % 360 >= 180)
        bridge = self.heading(next(iter(headings.values())))
        own = [self.heading(half + turn) for turn in range(30, 151, 15)]
        at = max(own, key=lambda one: abs(sin(one - bridge)) + 0.2 * sin(one))  # off the bridge, rather below it
        (x, y), far = self.cell.at, self.radius * RING
        return x + cos(at) * far, y + sin(at) * far

    def beside(self) -> Iterator[float]:
        """How far from the pit's middle its name is written, the best places first: y runs downwards."""
        if self.round:
            yield from (self.radius * 0.62, -self.radius * 0.62, 30.0, -30.0)
        else:
            yield from (self.half + 12, -self.half - 12, self.half - 12, 12 - self.half)

    def middle(self, metal: int, position: str | None = None) -> Point | None:
        """Where a wire to a metal is soldered: on the bridge, or half way along a track."""
        template = self.piece.template
        position = position or next(iter(template.positions), None)
        if template.bridge and metal in template.bridge and (course := self.bridge(position)):
            return course.at(course.length * 0.62, aside("left" if metal == template.bridge[0] else "right"))
        for name, end in template.ends.items():
            if metal in (end.left, end.right) and name in self.cell.ends:
                course = self.course(name)
                return course.at(course.length / 2, aside("left" if metal == end.left else "right"))
        return None

    def outline(self, splits: list[Angle]) -> Iterator[str]:
        """The pit's edge, and where a ring is split: strokes across it at both its ends."""
        (x, y), far = self.cell.at, self.radius
        if not self.round:
            yield (
                f'<rect class="pit" x="{x - 44:.1f}" y="{y - self.half:.1f}" width="88" height="{2 * self.half:.1f}"/>'
            )
            return
        yield f'<circle class="pit" cx="{x:.1f}" cy="{y:.1f}" r="{far:.1f}"/>'
        for split in splits:
            for turn in (0, 180):
                heading = self.heading(float(split) + turn)
                near, out = far * (RING - 0.07), far * (RING + 0.07)
                yield (
                    f'<path class="split" d="M{x + cos(heading) * near:.1f} {y + sin(heading) * near:.1f}'
                    f'L{x + cos(heading) * out:.1f} {y + sin(heading) * out:.1f}"/>'
                )
        if splits:
            yield f'<circle class="ring" cx="{x:.1f}" cy="{y:.1f}" r="{far * RING:.1f}"/>'
