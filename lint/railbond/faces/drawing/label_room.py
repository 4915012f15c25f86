"""Room for words: what lies where on the paper, lines as well as boxes, by squares of the plane."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from typing import NamedTuple

from .bars import AIR, Obstacle, round_box, round_line
from .course import Point
from .squares import CELL, COLUMN, middle_of, squares


class Box(NamedTuple):
    """A rectangle by its middle, width and height."""

    x: float
    y: float
    width: float
    height: float

    def meets(self, other: Box, air: float = 2 * AIR) -> bool:
        """Whether the two come nearer to each other than `air`."""
        return (
            abs(self.x - other.x) * 2 < self.width + other.width + 2 * air
            and abs(self.y - other.y) * 2 < self.height + other.height + 2 * air
        )


class Line(NamedTuple):
    """A straight line with half its width, and what it belongs to (empty: nothing that may cross it)."""

    one: Point
    other: Point
    half: float
    owner: str = ""

    def meets(self, box: Box, air: float = AIR) -> bool:
        """Whether it comes nearer to a box than `air`."""
        return _cuts(self.one, self.other, box, self.half + air)

    def up_to(self, box: Box) -> Line:
        """The line as far as the edge of a box in which it ends."""
        (x, y), (u, v) = self.one, self.other
        dx, dy = u - x, v - y
        shares = [
            (abs(start - middle) - size / 2) / abs(step)
            for start, middle, size, step in ((x, box.x, box.width, dx), (y, box.y, box.height, dy))
            if abs(step) > 1e-9 and abs(start - middle) > size / 2
        ]
        share = min(max(shares, default=0.0) + 0.01, 1.0)
        return self._replace(other=(x + dx * share, y + dy * share))

    def crossing(self, other: Line) -> float | None:
        """The share of this line at which it crosses the middle of another; None where it does not."""
        (a, b), (c, d) = self.one, self.other
        (e, f), (g, h) = other.one, other.other
        across = (c - a) * (h - f) - (d - b) * (g - e)
        if abs(across) < 1e-9:
            return None
        along = ((e - a) * (h - f) - (f - b) * (g - e)) / across
        beside = ((e - a) * (d - b) - (f - b) * (c - a)) / across
        return along if 0 <= along <= 1 and 0 <= beside <= 1 else None


def _cuts(one: Point, other: Point, box: Box, more: float) -> bool:
    """Whether a line runs through a box made larger by `more` on all sides (Liang and Barsky's way)."""
    first, last = 0.0, 1.0
    for start, end, middle, size in ((one[0], other[0], box.x, box.width), (one[1], other[1], box.y, box.height)):
        step, half = end - start, size / 2 + more
        low, high = middle - half - start, middle + half - start
        if -1e-9 < step < 1e-9:
            if low > 0 or high < 0:
                return False
            continue
        near, far = (low / step, high / step) if step > 0 else (high / step, low / step)
        first = near if near > first else first
        last = far if far < last else last
        if first > last:
            return False
    return True


LATELY = 6
"""Obstacles that a search remembers: where one label is in the way, it mostly is for the next place too."""


class LabelRoom:
    """All boxes and lines that are on the paper already. One that is not `marked` is not known again."""

    def __init__(self, marked: bool = True) -> None:
        self.marked = marked
        self._obstacles: defaultdict[int, list[Obstacle]] = defaultdict(list)
        self._boxes: defaultdict[int, list[Box]] = defaultdict(list)
        self._lines: defaultdict[int, list[Line]] = defaultdict(list)
        self._marks: dict[int, int] = {}
        self.whole = 0
        """The same for all that is there as `mark` is for what is in some squares."""
        self.reach = [0.0, 0.0, 0.0, 0.0]
        """The least and greatest x, and the least and greatest y, of all that is there."""

    def take(self, box: Box) -> Box:
        """Takes up a box, and gives it."""
        there, own = round_box(*box), squares(box)
        for square in own:
            self._boxes[square].append(box)
            self._obstacles[square].append(there)
        self._mark(box, own)
        self._widen(box)
        return box

    def draw(self, line: Line) -> None:
        """Takes up a line, a long one bit by bit."""
        (x, y), (u, v) = line.one, line.other
        if abs(x - u) > CELL and abs(y - v) > CELL:
            middle = (x + u) / 2, (y + v) / 2
            self.draw(line._replace(other=middle))
            self.draw(line._replace(one=middle))
            return
        wide, tall, more = abs(x - u), abs(y - v), 2 * line.half
        box = (x + u) / 2, (y + v) / 2, wide + more, tall + more
        there, own = round_line(line.one, line.other, line.half), squares(box)
        for square in own:
            self._lines[square].append(line)
            self._obstacles[square].append(there)
        self._mark(line, own)
        self._widen(box)

    def _mark(self, what: Box | Line, where: Iterable[int]) -> None:
        """Lets the marks of some squares tell that something lies there."""
        if self.marked:
            own = hash(what)
            for square in where:
                self._marks[square] = hash((self._marks.get(square), own))
            self.whole = hash((self.whole, own))

    def copy(self) -> LabelRoom:
        """The same room, in which more can be taken up than in this one."""
        other = LabelRoom()
        other.become(self)
        return other

    def become(self, other: LabelRoom) -> None:
        """Takes up what is in another room, in the place of all that is here."""
        self._boxes = defaultdict(list, {square: list(held) for square, held in other._boxes.items()})
        self._lines = defaultdict(list, {square: list(held) for square, held in other._lines.items()})
        there = {square: list(held) for square, held in other._obstacles.items()}
        self._obstacles = defaultdict(list, there)
        self._marks, self.whole, self.reach = dict(other._marks), other.whole, list(other.reach)

    def _widen(self, box: tuple[float, float, float, float]) -> None:
        x, y, half, tall = box[0], box[1], box[2] / 2, box[3] / 2
        west, east, top, low = self.reach
        if x - half < west or x + half > east or y - tall < top or y + tall > low:
            self.reach = [min(west, x - half), max(east, x + half), min(top, y - tall), max(low, y + tall)]

    def mark(self, around: Box) -> int:
        """A number that is the same again where all that lies in the squares round a box is the same, taken up in the
        same order (a hash of 64 bits)."""
        return hash(tuple(map(self._marks.get, squares(around))))

    def mark_along(self, line: Line) -> int:
        """The same of the squares that a line may run through."""
        return hash(tuple(map(self._marks.get, self._along(line))))

    def boxes(self) -> list[Box]:
        """The squares of the plane in which something lies."""
        return [Box(*middle_of(square), CELL, CELL) for square in {*self._boxes, *self._lines}]

    def is_free(self, box: Box, lately: list[Obstacle] | None = None) -> bool:
        """Whether a box touches nothing. `lately` holds what was in the way of boxes near by: it is looked at first,
        and what is in the way now joins it."""
        x, y, width, height = box
        half, high = width / 2, height / 2
        left, right, up, down = x - half, x + half, y - high, y + high
        if lately and _barring(lately, x, y, half, high, left, right, up, down):
            return False
        first, last = int((left - 2 * AIR) // CELL) * COLUMN, int((right + 2 * AIR) // CELL) * COLUMN + 1
        for row in range(int((up - 2 * AIR) // CELL), int((down + 2 * AIR) // CELL) + 1):
            for square in range(first + row, last + row, COLUMN):
                held = self._obstacles.get(square)
                if held and (there := _barring(held, x, y, half, high, left, right, up, down)):
                    if lately is not None:
                        del lately[: len(lately) + 1 - LATELY]
                        lately.append(there)
                    return False
        return True

    def is_clear(self, line: Line) -> bool:
        """Whether a line runs past all boxes."""
        (x, y), (u, v), half, _ = line
        west, east = (x, u) if x < u else (u, x)
        top, low = (y, v) if y < v else (v, y)
        for square in self._along(line):
            for box in self._boxes.get(square, ()):
                wide, tall = box.width / 2 + half + 1, box.height / 2 + half + 1
                near = west - wide <= box.x <= east + wide and top - tall <= box.y <= low + tall
                if near and line.meets(box, 1.0):
                    return False
        return True

    def crossed(self, line: Line) -> Iterator[tuple[float, Line]]:
        """The lines that a line crosses, with the share of its length where it does."""
        (x, y), (u, v) = line.one, line.other
        west, east = (x, u) if x < u else (u, x)
        top, low = (y, v) if y < v else (v, y)
        found: dict[Line, float] = {}
        for square in self._along(line):
            for other in self._lines.get(square, ()):
                (x, y), (u, v) = other.one, other.other
                if (x < west and u < west) or (x > east and u > east) or (y < top and v < top) or (y > low and v > low):
                    continue
                if (share := line.crossing(other)) is not None:
                    found[other] = share
        yield from ((share, other) for other, share in found.items())

    def _along(self, line: Line) -> Iterator[int]:
        """The squares that a line may run through, from its one end to the other, as they are asked for."""
        (x, y), (u, v) = line.one, line.other
        pieces = int(min(abs(x - u), abs(y - v)) / (2 * CELL)) + 1
        dx, dy = (u - x) / pieces, (v - y) / pieces
        width, height = abs(dx) + 4, abs(dy) + 4
        for piece in range(pieces):
            yield from squares((x + dx * (piece + 0.5), y + dy * (piece + 0.5), width, height))


def _barring(
    held: Sequence[Obstacle],
    x: float,
    y: float,
    half: float,
    high: float,
    left: float,
    right: float,
    up: float,
    down: float,
) -> Obstacle | None:
    """What of some obstacles a box touches, by its middle, half its width and height, and its edges."""
    for there in held:
        west, east, top, low, a, b, c, over, across, rim = there
        if (
            left < east
            and right > west
            and up < low
            and down > top
            and abs(a * x + b * y - c) < half * over + high * across + rim
        ):
            return there
    return None
