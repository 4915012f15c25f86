"""Tables in their pits: a turntable's circle with its tracks at their angles, a transfer table's pit with its tracks at
their distances, and the bridge at those to which it is set."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from math import cos, pi, radians, sin

from railbond.layout.model import EndAt, Piece
from trackplan.quantities import Angle

from .aprons import APRON, LEVEL, aprons
from .course import Course, Point, Vertex
from .pit_size import ROOM, STEEP, Wish, middle, radius, transfer_pit
from .scale import LANE, TRIM
from .scene import Cell
from .strokes import Cuts, Stroke, aside

RING = 0.27
"""The radius of a split ring, of that of its pit."""
SMALLER = 0.9
"""How much smaller a circle may be than it would be, so that it lies level with its tracks."""


class PitWork:
    """A table in its cell, with its pit's edge, its tracks and its bridge."""

    def __init__(self, piece: Piece, cell: Cell) -> None:
        self.piece, self.cell = piece, cell
        self.round, self.turn = piece.template.outline.round, piece.template.outline.turn
        self.radius = radius(piece)
        self.places = piece.template.outline.places
        if not self.round:
            self.scale, self.middle_place, self.half = transfer_pit(piece)
        self.way = -1 if self._turned() else 1
        self._level()
        self.frogs: dict[int, Point] = {}
        self.out = dict.fromkeys(cell.ends, APRON)
        if self.round:
            steps = {name: (cos(one), sin(one)) for name in cell.ends for one in [self.heading(self.places[name])]}
            self.out = aprons(self.cell.at, self.radius, steps, cell.ends)

    def _level(self) -> None:
        """Lays the pit as high as its tracks rise and fall least, and within its lanes in any case: a circle is a
        little smaller for that, if this is enough."""
        (x, y), half = self.cell.at, self.radius if self.round else self.half
        sides: dict[bool, list[Wish]] = {True: [], False: []}
        for name, end in self.cell.ends.items():
            rim = self.rim(name, APRON)
            run = abs(end[0] - x) - LEVEL - abs(rim[0] - x)
            sides[end[0] > x].append((end[1] - rim[1] + y, run / STEEP))
        highest, lowest = self.cell.free[0] - LANE + ROOM, self.cell.free[1] + LANE - ROOM
        wished = middle([*sides.values()]) if self.cell.ends else y
        free = min(wished - highest, lowest - wished)
        if self.round and half > free > half * SMALLER:
            self.radius = half = free
        level = min(max(wished, highest + half), lowest - half)
        self.cell = self.cell._replace(at=(x, level if lowest - highest > 2 * half else (highest + lowest) / 2))

    def _turned(self) -> bool:
        """Whether the picture shows the piece end for end."""
        for name, (x, _) in self.cell.ends.items():
            if not self.round:
                return (x > self.cell.at[0]) != self._far(name)
            if abs(cos(radians(self.places[name] + self.turn))) > 1e-6:
                return (x > self.cell.at[0]) != (cos(radians(self.places[name] + self.turn)) > 0)
        return False

    def _far(self, name: str) -> bool:
        return name in self.piece.template.outline.east

    def heading(self, place: float) -> float:
        """Radians clockwise from the east, as y runs downwards."""
        return -radians(place + self.turn) + (0 if self.way > 0 else pi)

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
            (end[0] - (LEVEL if end[0] > self.cell.at[0] else -LEVEL), end[1]),
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
