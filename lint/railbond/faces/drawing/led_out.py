"""Leads a label that finds no place near by out of the crowd, by a line."""

from __future__ import annotations

from collections.abc import Iterator
from math import asin, atan2, ceil, cos, floor, hypot, inf, pi, sin

from .bars import Obstacle
from .course import Point
from .label_places import Label, LabelPlace
from .label_room import LabelRoom
from .shapes import Box, Line, entered

RAYS, FINER = 72, 720
"""In how many directions a way out is looked for, and in how many where that finds none near."""
THIN = 0.6
"""Half the width of the line."""
AROUND = THIN + 1
"""How far from other words its middle stays."""
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
    fan = _Fan(label, room, count)
    for far in _farther(most):
        for ray in fan.clear(far):
            if room.is_free(ray.box(far), ray.lately):
                return ray.place(far)
    return None


def _led_anywhere(label: Label, room: LabelRoom) -> LabelPlace:
    """The nearest free place, whatever its line runs under."""
    rays = _Fan(label, room, RAYS).rays.values()
    return next(ray.place(far) for far in _farther(inf) for ray in rays if room.is_free(ray.box(far), ray.lately))


def _farther(most: float) -> Iterator[float]:
    """Lengths of a line that leads out, each longer than the one before, up to `most`."""
    far = 30.0
    while far <= most:
        yield far
        far += max(18.0, far / 8)


class _Fan:
    """So many ways all round to lead a label out, by their numbers, without those along level track."""

    def __init__(self, label: Label, room: LabelRoom, count: int) -> None:
        self._at, self._room, self._count, self._seen = label.at, room, count, 0.0
        angles = (2 * pi * step / count for step in range(count))
        self.rays = {step: _Ray(label, angle) for step, angle in enumerate(angles) if abs(sin(angle)) > LEVEL}

    def clear(self, far: float) -> Iterator[_Ray]:
        """Those that run so far past all words."""
        if far > self._seen:
            self._seen = 2 * far
            for box in self._room.boxes_near(Box(*self._at, 2 * self._seen, 2 * self._seen)):
                self._bar(box)
        return (ray for ray in self.rays.values() if ray.ends > far)

    def _bar(self, box: Box) -> None:
        """Lets those rays end at a box that lead to it."""
        x, y = box.x - self._at[0], box.y - self._at[1]
        around, away = hypot(box.width / 2 + AROUND, box.height / 2 + AROUND), hypot(x, y)
        middle, within = atan2(y, x), asin(around / away) if around < away else pi
        part = self._count / (2 * pi)
        for step in range(ceil((middle - within) * part), floor((middle + within) * part) + 1):
            if ray := self.rays.get(step % self._count):
                ray.end_at(box, self._seen)


class _Ray:
    """A way to lead a label out, and how far it is clear of words."""

    def __init__(self, label: Label, angle: float) -> None:
        self._at, self._size = label.at, label.size
        self._x, self._y = cos(angle), sin(angle)
        width, height = label.size
        self._within = min(size / 2 / max(abs(step), 1e-9) for size, step in ((width, self._x), (height, self._y)))
        """How far from its middle the ray leaves the label."""
        self.ends = inf
        self.lately: list[Obstacle] = []

    def end_at(self, box: Box, far: float) -> None:
        """Ends where it comes to a box, if it does so within a distance."""
        share = entered(self._at, self._after(far), box, AROUND)
        if share is not None:
            self.ends = min(self.ends, share * far)

    def _after(self, far: float) -> Point:
        return self._at[0] + self._x * far, self._at[1] + self._y * far

    def box(self, far: float) -> Box:
        """The label at the end of a line of that length."""
        return Box(*self._after(far + self._within), *self._size)

    def place(self, far: float) -> LabelPlace:
        return LabelPlace(self.box(far), (Line(self._at, self._after(far), THIN),))
