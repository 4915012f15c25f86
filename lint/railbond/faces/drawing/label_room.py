"""Room for words: where a label can stand without covering track or another label."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable
from math import floor
from typing import NamedTuple

CELL = 48.0
LETTER = 0.6
"""Width of a letter, as a share of its height: an estimate for a plain sans-serif."""

AIR = 5.0
"""Between two labels."""


class Box(NamedTuple):
    """A rectangle by its middle, width and height."""

    x: float
    y: float
    width: float
    height: float

    def meets(self, other: Box) -> float:
        """How much of the two lies on each other, as an area."""
        across = (self.width + other.width) / 2 - abs(self.x - other.x)
        down = (self.height + other.height) / 2 - abs(self.y - other.y)
        return across * down if across > 0 and down > 0 else 0.0


class LabelRoom:
    """What is taken up already, by squares of the plane, so that a large picture takes no longer for each label."""

    def __init__(self) -> None:
        self._held: defaultdict[tuple[int, int], list[Box]] = defaultdict(list)
        self.reach = [0.0, 0.0, 0.0, 0.0]
        """The least and greatest x, and the least and greatest y, of all that is there."""

    def take(self, box: Box) -> Box:
        """Takes up a box, and gives it."""
        for square in _squares(box):
            self._held[square].append(box)
        west, east, top, low = self.reach
        self.reach = [
            min(west, box.x - box.width / 2), max(east, box.x + box.width / 2),
            min(top, box.y - box.height / 2), max(low, box.y + box.height / 2),
        ]  # fmt: skip
        return box

    def put(self, boxes: Iterable[Box]) -> Box:
        """Takes up the first box that is free, or the one that covers least."""
        best, least = None, float("inf")
        for box in boxes:
            covered = self.covered(box._replace(width=box.width + AIR, height=box.height + AIR))
            if covered < least:
                best, least = box, covered
            if not covered:
                break
        assert best is not None, "a label needs a place to try"
        return self.take(best)

    def covered(self, box: Box) -> float:
        """How much of what is there a box would cover."""
        there = {held for square in _squares(box) for held in self._held.get(square, ())}
        return sum(box.meets(held) for held in there)


def _squares(box: Box) -> list[tuple[int, int]]:
    columns = range(floor((box.x - box.width / 2) / CELL), floor((box.x + box.width / 2) / CELL) + 1)
    rows = range(floor((box.y - box.height / 2) / CELL), floor((box.y + box.height / 2) / CELL) + 1)
    return [(column, row) for column in columns for row in rows]


def wide(text: str, size: float) -> float:
    """How wide a text of that height is, about."""
    return len(text) * size * LETTER
