"""Room for words: what lies where on the paper, lines as well as boxes, by squares of the plane."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Hashable, Iterable, Iterator, Sequence

from trackplan.typed import TypeVar

from .bars import AIR, Obstacle, round_box, round_line, round_rails
from .course import Point
from .shapes import Box, Line, crossing
from .squares import CELL, squares

Given = TypeVar("Given")

METAL = 2.0
"""Half the width of the broadest line over which no wire hops."""
LATELY = 6
"""Obstacles that a search remembers: where one label is in the way, it mostly is for the next place too."""


class LabelRoom:
    """All boxes and lines that are on the paper already. One that is not `marked` is not known again."""

    def __init__(self, marked: bool = True) -> None:
        self.marked = marked
        self._obstacles: defaultdict[int, list[Obstacle]] = defaultdict(list)
        self._boxes: defaultdict[int, list[Box]] = defaultdict(list)
        self._metal: defaultdict[int, list[tuple[Point, Point]]] = defaultdict(list)
        self._around: list[tuple[float, float, float, float]] = []
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
        (x, y), (u, v), half, _ = line
        if abs(x - u) > CELL and abs(y - v) > CELL:
            middle = (x + u) / 2, (y + v) / 2
            self.draw(line._replace(other=middle))
            self.draw(line._replace(one=middle))
            return
        box = (x + u) / 2, (y + v) / 2, abs(x - u) + 2 * half, abs(y - v) + 2 * half
        self._lie(line, box, round_line((x, y), (u, v), half), (line[:2],) if half > METAL else ())

    def lay(self, left: tuple[Point, Point], right: tuple[Point, Point], half: float) -> None:
        """Takes up two rails side by side and what lies between them, each rail by its ends and half its width."""
        (x, y), (u, v) = left
        (w, z), (q, r) = right
        if abs(x - u) > CELL and abs(y - v) > CELL:
            middle, other = ((x + u) / 2, (y + v) / 2), ((w + q) / 2, (z + r) / 2)
            self.lay((left[0], middle), (right[0], other), half)
            self.lay((middle, left[1]), (other, right[1]), half)
            return
        west, east, top, low = min(x, u, w, q), max(x, u, w, q), min(y, v, z, r), max(y, v, z, r)
        box = (west + east) / 2, (top + low) / 2, east - west + 2 * half, low - top + 2 * half
        there = round_rails(left, right, half)
        self._lie(there, box, there, (left, right))

    def _lie(
        self,
        what: Hashable,
        box: tuple[float, float, float, float],
        there: Obstacle,
        metal: Iterable[tuple[Point, Point]],
    ) -> None:
        """Lets something lie within a box, by its middle and size; wires hop over its metal."""
        own = squares(box)
        for square in own:
            self._obstacles[square].append(there)
            if metal:
                self._metal[square] += metal
        self._around.append(box)
        self._mark(what, own)
        self._widen(box)

    def _mark(self, what: Hashable, where: Iterable[int]) -> None:
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
        self._metal = defaultdict(list, {square: list(held) for square, held in other._metal.items()})
        self._around = list(other._around)
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
        """All that lies there; of a line the box round it."""
        boxes = {id(box): box for held in self._boxes.values() for box in held}
        return [*boxes.values(), *(Box(*box) for box in self._around)]

    def is_free(self, box: Box) -> bool:
        """Whether a box touches nothing."""
        return any(True for _ in self.free([(box.x, box.y, None)], (box.width, box.height)))

    def free(
        self, places: Iterable[tuple[float, float, Given]], size: tuple[float, float]
    ) -> Iterator[tuple[float, float, Given]]:
        """Those of some places at which a box of some width and height touches nothing, as they are asked for: each by
        the middle of the box, and whatever else is told of it."""
        half, high = size[0] / 2, size[1] / 2
        held = self._obstacles.get
        lately: list[Obstacle] = []
        for place in places:
            x, y, _ = place
            left, right, up, down = x - half, x + half, y - high, y + high
            if lately and _barring(lately, x, y, half, high, left, right, up, down):
                continue
            for square in squares((x, y, *size), 2 * AIR):
                near = held(square)
                if near and (there := _barring(near, x, y, half, high, left, right, up, down)):
                    del lately[: len(lately) + 1 - LATELY]
                    lately.append(there)
                    break
            else:
                yield place

    def is_clear(self, line: Line) -> bool:
        """Whether a line runs past all boxes."""
        (x, y), (u, v), half, _ = line
        west, east = (x, u) if x < u else (u, x)
        top, low = (y, v) if y < v else (v, y)
        for square in self._along(line):
            for box in self._boxes.get(square, ()):
                x, y, width, height = box
                wide, tall = width / 2 + half + 1, height / 2 + half + 1
                near = west - wide <= x <= east + wide and top - tall <= y <= low + tall
                if near and line.meets(box, 1.0):
                    return False
        return True

    def crossed(self, line: Line) -> set[float]:
        """Where a wire crosses metal, as shares of its length."""
        one, other = line.one, line.other
        (x, y), (u, v) = one, other
        west, east = (x, u) if x < u else (u, x)
        top, low = (y, v) if y < v else (v, y)
        found: set[float] = set()
        for square in self._along(line):
            for start, stop in self._metal.get(square, ()):
                (x, y), (u, v) = start, stop
                if (x < west and u < west) or (x > east and u > east) or (y < top and v < top) or (y > low and v > low):
                    continue
                if (share := crossing(one, other, start, stop)) is not None:
                    found.add(share)
        return found

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
        west, east, top, low, slant = there
        if left < east and right > west and up < low and down > top:
            if slant is None:
                return there
            a, b, c, over, across, rim = slant
            if abs(a * x + b * y - c) < half * over + high * across + rim:
                return there
    return None
