"""A box and a line on the paper, and whether they come near each other."""

from __future__ import annotations

from typing import NamedTuple

from .bars import AIR
from .course import Point


class Box(NamedTuple):
    """A rectangle by its middle, width and height."""

    x: float
    y: float
    width: float
    height: float

    @property
    def edges(self) -> tuple[float, float, float, float]:
        """Its west, east, top and low edges."""
        half, high = self.width / 2, self.height / 2
        return self.x - half, self.x + half, self.y - high, self.y + high

    def meets(self, other: Box, air: float = 2 * AIR) -> bool:
        """Whether the two come nearer to each other than `air`."""
        (x, y, width, height), (u, v, wide, tall) = self, other
        return abs(x - u) * 2 < width + wide + 2 * air and abs(y - v) * 2 < height + tall + 2 * air


class Line(NamedTuple):
    """A straight line with half its width, and what it belongs to (empty: nothing that may cross it)."""

    one: Point
    other: Point
    half: float
    owner: str = ""

    def meets(self, box: Box, air: float = AIR) -> bool:
        """Whether it comes nearer to a box than `air`."""
        return entered(self.one, self.other, box, self.half + air) is not None

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
        return crossing(self.one, self.other, other.one, other.other)


def crossing(one: Point, other: Point, start: Point, stop: Point) -> float | None:
    """The share of the way from one point to another at which that from `start` to `stop` is crossed, or None."""
    (a, b), (c, d) = one, other
    (e, f), (g, h) = start, stop
    across = (c - a) * (h - f) - (d - b) * (g - e)
    if abs(across) < 1e-9:
        return None
    along = ((e - a) * (h - f) - (f - b) * (g - e)) / across
    beside = ((e - a) * (d - b) - (f - b) * (c - a)) / across
    return along if 0 <= along <= 1 and 0 <= beside <= 1 else None


def entered(one: Point, other: Point, box: Box, more: float) -> float | None:
    """The share of a line at which it comes into a box made larger by `more` on all sides (Liang and Barsky's way), or
    None."""
    first, last = 0.0, 1.0
    for start, end, middle, size in ((one[0], other[0], box.x, box.width), (one[1], other[1], box.y, box.height)):
        step, half = end - start, size / 2 + more
        low, high = middle - half - start, middle + half - start
        if -1e-9 < step < 1e-9:
            if low > 0 or high < 0:
                return None
            continue
        near, far = (low / step, high / step) if step > 0 else (high / step, low / step)
        first = near if near > first else first
        last = far if far < last else last
        if first > last:
            return None
    return first
