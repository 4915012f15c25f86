"""The squares of the plane by which it is found quickly what lies where."""

from __future__ import annotations

from collections.abc import Sequence
from math import floor

CELL = 48.0
COLUMN = 1 << 20
"""Squares are numbered, which is quicker than to name them by column and row: one column from another by so much."""


def squares(box: tuple[float, float, float, float], more: float = 0.0) -> Sequence[int]:
    """The numbers of the squares that a box lies in, by its middle, width and height, made larger by `more`."""
    x, y, width, height = box
    half, tall = width / 2 + more, height / 2 + more
    west, east = floor((x - half) / CELL) * COLUMN, floor((x + half) / CELL) * COLUMN
    top, low = floor((y - tall) / CELL), floor((y + tall) / CELL)
    if west == east:
        return (west + top,) if top == low else range(west + top, west + low + 1)
    if top == low:
        return range(west + top, east + top + 1, COLUMN)
    return [square for row in range(top, low + 1) for square in range(west + row, east + row + 1, COLUMN)]
