"""Leads a label that finds no place near by out of the crowd, by a line."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import lru_cache
from math import cos, inf, pi, sin

from .label_places import Label, LabelPlace
from .label_room import LabelRoom
from .shapes import Box, Line

RAYS, FINER = 72, 720
"""In how many directions a way out is looked for, and in how many where that finds none near."""
THIN = 0.6
"""Half the width of the line."""
_Ray = tuple[float, float, float]
"""A way to lead a label out: one unit along it, and how far from the middle of the label it leaves that."""
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
    rays = _rays(count, label.size)
    for far in _farther(most):
        shut = set()
        for ray in _free(label, room, rays, far):
            place = _place(label, ray, far)
            if all(map(room.is_clear, place.lines)):
                return place
            shut.add(ray)
        rays = tuple(ray for ray in rays if ray not in shut) if shut else rays
    return None


def _led_anywhere(label: Label, room: LabelRoom) -> LabelPlace:
    """The nearest free place, whatever its line runs under."""
    rays = _rays(RAYS, label.size)
    return next(_place(label, ray, far) for far in _farther(inf) for ray in _free(label, room, rays, far))


def _free(label: Label, room: LabelRoom, rays: Sequence[_Ray], far: float) -> Iterator[_Ray]:
    """Those rays at whose ends, so far away, there is room for the label."""
    x, y = label.at
    ends = ((x + ray[0] * (far + ray[2]), y + ray[1] * (far + ray[2]), ray) for ray in rays)
    for _, _, ray in room.free(ends, label.size):
        yield ray


def _farther(most: float) -> Iterator[float]:
    """Lengths of a line that leads out, each longer than the one before, up to `most`."""
    far = 30.0
    while far <= most:
        yield far
        far += max(18.0, far / 8)


@lru_cache
def _rays(count: int, size: tuple[float, float]) -> tuple[_Ray, ...]:
    """So many ways all round to lead a label of some size out, without those along level track."""
    width, height = size
    angles = (2 * pi * step / count for step in range(count))
    ways = ((cos(angle), sin(angle)) for angle in angles if abs(sin(angle)) > LEVEL)
    return tuple((dx, dy, min(width / max(abs(dx), 1e-9), height / max(abs(dy), 1e-9)) / 2) for dx, dy in ways)


def _place(label: Label, ray: _Ray, far: float) -> LabelPlace:
    """The label at the end of a line of that length."""
    (x, y), (dx, dy, within) = label.at, ray
    box = Box(x + dx * (far + within), y + dy * (far + within), *label.size)
    return LabelPlace(box, (Line(label.at, (x + dx * far, y + dy * far), THIN),), led_out=True)
