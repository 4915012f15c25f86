"""Where a label could be: its box there, and the lines that lead to it."""

from __future__ import annotations

from collections.abc import Callable, Hashable, Iterator
from itertools import product
from typing import Any, NamedTuple

from .course import Point
from .shapes import Box, Line

SQUARE = 96


PossiblePlace = tuple[float, float, Callable[[Box], tuple[Line, ...]]]
"""Where a label could be, if there is room: the middle of its box, and how the lines that lead to the box are found.
Most are taken already, so that nothing else is worked out in advance."""


def unled(box: Box) -> tuple[Line, ...]:
    """No lines, where a label stands beside what it tells of."""
    return ()


class LabelPlace:
    """A place for a label: its box, the lines that lead to it, and whether these lead out of a crowd."""

    __slots__ = ("box", "lines", "led_out", "bounds", "_squares")

    def __init__(self, box: Box, lines: tuple[Line, ...] = (), led_out: bool = False) -> None:
        self.box, self.lines, self.led_out = box, lines, led_out
        x, y, width, height = box
        west, east, top, low = x - width / 2, x + width / 2, y - height / 2, y + height / 2
        for (one, up), (other, down), _, _ in lines:
            west, east = min(west, one, other), max(east, one, other)
            top, low = min(top, up, down), max(low, up, down)
        self.bounds = west - 4, east + 4, top - 4, low + 4
        self._squares: tuple[tuple[int, int], ...] = ()

    @property
    def squares(self) -> tuple[tuple[int, int], ...]:
        """The large squares of the plane that it reaches into."""
        if not self._squares:
            left, right, up, down = self.bounds
            west, east, top, low = int(left // SQUARE), int(right // SQUARE), int(up // SQUARE), int(down // SQUARE)
            self._squares = tuple(product(range(west, east + 1), range(top, low + 1)))
        return self._squares

    def hinders(self, other: LabelPlace) -> bool:
        west, east, top, low = self.bounds
        far_west, far_east, far_top, far_low = other.bounds
        if west > far_east or far_west > east or top > far_low or far_top > low:
            return False
        if self.box.meets(other.box):
            return True
        return bool(self.lines or other.lines) and (
            any(line.meets(self.box, 2.0) for line in other.lines)
            or any(line.meets(other.box, 2.0) for line in self.lines)
            or any(one.one != two.one and one.crossing(two) is not None for one in self.lines for two in other.lines)
        )


class LabelChoices(NamedTuple):
    """Places that a label could have, by the width and height it takes up there and the values they hang on: two that
    are equal are the same places."""

    make: Callable[..., Iterator[PossiblePlace]]
    size: tuple[float, float]
    given: tuple[Hashable, ...]

    def each(self) -> Iterator[PossiblePlace]:
        return self.make(self.size, *self.given)


def choices(make: Callable[..., Iterator[PossiblePlace]], size: tuple[float, float], *given: Any) -> LabelChoices:
    """The places that `make` gives for a label of some size and some values, the best first."""
    return LabelChoices(make, size, given)


class Label(NamedTuple):
    """A label: its places, how it is drawn at one, the point that it tells of, and its width and height where it is
    led out of the crowd."""

    places: LabelChoices
    drawn: Callable[[LabelPlace], str]
    at: Point
    size: tuple[float, float]
