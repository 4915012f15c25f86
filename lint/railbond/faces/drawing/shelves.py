"""Puts the parts of a drawing beside and below one another, in their order, as words are put into lines."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import sqrt

from .scale import LANE

BESIDE = 3 * LANE
"""Between two parts of one row."""
BROAD = 1.6
"""How much wider than high the whole is to be."""

PartSize = tuple[int, int]
"""Width and height."""


def shelved(sizes: Sequence[PartSize], below: int = 0) -> Iterator[tuple[int, int]]:
    """How far east and how far down each part lies, `below` apart from row to row."""
    area = sum((width + BESIDE) * (height + LANE) for width, height in sizes)
    most = max([*(width for width, _ in sizes), sqrt(BROAD * area)], default=0)
    right = down = deep = 0
    for width, height in sizes:
        if right and right + width > most:
            right, down, deep = 0, down + deep + below, 0
        yield right, down
        right, deep = right + width + BESIDE, max(deep, height)
