"""Leads a label that finds no place near by out of the crowd, by a line."""

from __future__ import annotations

from collections.abc import Iterator
from math import cos, inf, pi, sin

from .bars import Obstacle
from .course import Point
from .label_places import Label, LabelPlace
from .label_room import LabelRoom
from .shapes import Box, Line

RAYS, FINER = 72, 720
"""In how many directions a way out is looked for, and in how many where that finds none near."""
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
    rays = _rays(label, room, count)
    for far in _farther(most):
        for ray in rays:
            if ray.is_clear(far) and room.is_free(ray.box(far), ray.lately):
                return ray.place(far)
    return None


def _led_anywhere(label: Label, room: LabelRoom) -> LabelPlace:
    """The nearest free place, whatever its line runs under."""
    rays = _rays(label, room, RAYS)
    return next(ray.place(far) for far in _farther(inf) for ray in rays if room.is_free(ray.box(far), ray.lately))


def _rays(label: Label, room: LabelRoom, count: int) -> list[_Ray]:
    """So many rays all round, without those along level track."""
    angles = (2 * pi * step / count for step in range(count))
    return [_Ray(label, room, angle) for angle in angles if abs(sin(angle)) > LEVEL]


def _farther(most: float) -> Iterator[float]:
    """Lengths of a line that leads out, each longer than the one before, up to `most`."""
    far = 30.0
    while far <= most:
        yield far
        far += max(18.0, far / 8)


class _Ray:
    """A way to lead a label out, looked along only as far as it is clear of words."""

    def __init__(self, label: Label, room: LabelRoom, angle: float) -> None:
        self._at, self._size, self._room = label.at, label.size, room
        self._x, self._y = cos(angle), sin(angle)
        width, height = label.size
        self._within = min(size / 2 / max(abs(step), 1e-9) for size, step in ((width, self._x), (height, self._y)))
        """How far from its middle the ray leaves the label."""
        self._clear, self._is_blocked = 0.0, False
        self.lately: list[Obstacle] = []

    def _after(self, far: float) -> Point:
        return self._at[0] + self._x * far, self._at[1] + self._y * far

    def is_clear(self, far: float) -> bool:
        """Whether it runs so far past all words."""
        if not self._is_blocked:
            self._is_blocked = not self._room.is_clear(Line(self._after(self._clear), self._after(far), 0.6))
            self._clear = far
        return not self._is_blocked

    def box(self, far: float) -> Box:
        """The label at the end of a line of that length."""
        return Box(*self._after(far + self._within), *self._size)

    def place(self, far: float) -> LabelPlace:
        return LabelPlace(self.box(far), (Line(self._at, self._after(far), 0.6),))
