"""Leads a label that finds no place near by out of the crowd, by a line."""

from __future__ import annotations

from collections.abc import Iterator
from functools import lru_cache
from math import cos, inf, pi, sin

from .bars import Obstacle
from .course import Point
from .label_places import Label, LabelPlace
from .label_room import LabelRoom
from .shapes import Box, Line

RAYS, FINER = 72, 720
"""In how many directions a way out is looked for, and in how many where that finds none near."""
THIN = 0.6
"""Half the width of the line."""
LEVEL = 0.08
"""The sine of the least angle between such a direction and level track."""
NEAR = 300.0
"""How far a label is led out before more directions are tried."""
PATIENCE = 2500.0
"""And before its line may run under other words."""


def led_out(label: Label, room: LabelRoom) -> LabelPlace:
    """The nearest free place to which a line can lead past all other words."""
    return _led_along(label, room, RAYS, NEAR) or _led_along(label, room, FINER, PATIENCE) or _led_anywhere(label, room)


def _led_along(label: Label, room: LabelRoom, count: int, most: float) -> LabelPlace | None:
    """The nearest such place along so many rays, none further than `most`."""
    rays = dict.fromkeys(_rays(count))
    lately: list[Obstacle] = []
    for far in _farther(most):
        for ray in list(rays):
            box, end = _at_end(label, ray, far)
            if room.is_free(box, lately):
                line = Line(label.at, end, THIN)
                if room.is_clear(line):
                    return LabelPlace(box, (line,))
                del rays[ray]
    return None


def _led_anywhere(label: Label, room: LabelRoom) -> LabelPlace:
    """The nearest free place, whatever its line runs under."""
    ends = (_at_end(label, ray, far) for far in _farther(inf) for ray in _rays(RAYS))
    return next(LabelPlace(box, (Line(label.at, end, THIN),)) for box, end in ends if room.is_free(box))


def _farther(most: float) -> Iterator[float]:
    """Lengths of a line that leads out, each longer than the one before, up to `most`."""
    far = 30.0
    while far <= most:
        yield far
        far += max(18.0, far / 8)


@lru_cache
def _rays(count: int) -> tuple[Point, ...]:
    """So many ways all round to lead a label out, each by one unit along it, without those along level track."""
    angles = (2 * pi * step / count for step in range(count))
    return tuple((cos(angle), sin(angle)) for angle in angles if abs(sin(angle)) > LEVEL)


def _at_end(label: Label, ray: Point, far: float) -> tuple[Box, Point]:
    """The label at the end of a line of that length, and where the line ends."""
    (x, y), (dx, dy), (width, height) = label.at, ray, label.size
    more = far + min(width / max(abs(dx), 1e-9), height / max(abs(dy), 1e-9)) / 2
    return Box(x + dx * more, y + dy * more, width, height), (x + dx * far, y + dy * far)
