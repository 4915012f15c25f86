"""The windows of a drawing that is shown on several sheets, and which of these there need to be."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from itertools import product
from math import ceil

from .drawn import PaperWindow
from .shapes import Box

Tile = tuple[int, int]
"""The row and the column of a sheet among those of a drawing."""


def tiles(frame: PaperWindow, room: tuple[float, float], over: float, taken: Sequence[Box]) -> list[PaperWindow]:
    """Windows as wide as the `room` of a sheet, at equal steps, and as high from the top on: what is told below the
    drawing comes last. They overlap by `over` at least, and those are left out that hold nothing of their own of what
    is `taken`."""
    west, top, width, height = frame
    wide_room, high_room = room
    across, down = _count(width, wide_room, over), _count(height, high_room, over)
    step, rise = (width - wide_room) / max(across - 1, 1), high_room - over
    frames = {
        (row, column): PaperWindow(
            west + column * step, top + row * rise, min(wide_room, width), min(high_room, height - row * rise)
        )
        for row in range(down)
        for column in range(across)
    }
    return _needed(frames, _shared_out(frames, taken))


def _count(length: float, room: float, over: float) -> int:
    return 1 if length <= room else ceil((length - over) / (room - over))


def _shared_out(frames: Mapping[Tile, PaperWindow], taken: Sequence[Box]) -> dict[Tile, list[PaperWindow]]:
    """What lies in each frame, of what goes beyond it only the part in it."""
    rows = [(row, frame.top, frame.top + frame.height) for (row, column), frame in frames.items() if not column]
    columns = [(column, frame.west, frame.west + frame.width) for (row, column), frame in frames.items() if not row]
    found: dict[Tile, list[PaperWindow]] = {place: [] for place in frames}
    for box in taken:
        west, east, top, low = box.edges
        whole = PaperWindow(west, top, box.width, box.height)
        across = [column for column, first, last in columns if first < east and west < last]
        down = [row for row, first, last in rows if first < low and top < last]
        for place in product(down, across):
            part = whole if len(down) == len(across) == 1 else _clipped(whole, frames[place])
            if part:
                found[place].append(part)
    return found


def _needed(frames: Mapping[Tile, PaperWindow], parts: Mapping[Tile, Sequence[PaperWindow]]) -> list[PaperWindow]:
    """The frames without those of which all that lies in them lies in one beside them too."""
    kept = dict(frames)
    for row, column in sorted(frames, reverse=True):
        around = ((row + down, column + east) for down in (-1, 0, 1) for east in (-1, 0, 1) if down or east)
        beside = [kept[place] for place in around if place in kept]
        if all(any(_holds(other, part) for other in beside) for part in parts[row, column]):
            del kept[row, column]
    return list(kept.values())


def _clipped(one: PaperWindow, other: PaperWindow) -> PaperWindow | None:
    """What two rectangles have in common; None for no more than a hair."""
    west, top = max(one.west, other.west), max(one.top, other.top)
    width = min(one.west + one.width, other.west + other.width) - west
    height = min(one.top + one.height, other.top + other.height) - top
    return PaperWindow(west, top, width, height) if width > 1 and height > 1 else None


def _holds(frame: PaperWindow, part: PaperWindow) -> bool:
    """Whether a rectangle lies in a frame, but for a hair."""
    return (
        frame.west - 1 <= part.west
        and frame.top - 1 <= part.top
        and part.west + part.width <= frame.west + frame.width + 1
        and part.top + part.height <= frame.top + frame.height + 1
    )
