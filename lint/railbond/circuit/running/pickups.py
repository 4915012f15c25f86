"""An engine's wheels in whole micrometers, and how far it rolls on without power."""

from __future__ import annotations

from collections.abc import Iterable

from railbond.layout.doubts import LONGEST_ENGINE
from railbond.layout.limits import limit
from railbond.layout.model import Layout
from trackplan.record import NamedTuple
from trackplan.statements import Engine

from . import micrometers

Wheels = tuple[int, ...]
"""Distances back from the engine's zero, the foremost first."""


class Pickups(NamedTuple):
    """One engine. `firm_left` and `firm_right` are the wheels that bear weight, if any are said not to.

    `coast` is what a capacitor carries it at its crawl. The capacitor is taken to be full again before the next
    dead stretch.
    """

    name: str
    statement: Engine
    left: Wheels
    right: Wheels
    firm_left: Wheels
    firm_right: Wheels
    coast: int
    crawl: float

    @property
    def span(self) -> int:
        """From the foremost to the hindmost pickup wheel."""
        return max(self.left + self.right) - min(self.left + self.right)

    @property
    def bridges(self) -> int:
        """The longest dead stretch of one rail that does not stop it: by its pickups and by what it rolls on."""
        return min(max(wheels) - min(wheels) for wheels in (self.left, self.right)) + self.coast

    @property
    def hindmost(self) -> int:
        return max(self.left + self.right)

    @property
    def foremost(self) -> int:
        return min(self.left + self.right)


def pickups(layout: Layout) -> list[Pickups]:
    """The plan's engines, but for those whose wheels stand where no engine has any: that is told, and nothing else of
    them."""
    found = (_pickups(layout, engine) for engine in layout.engines)
    return [one for one in found if one.hindmost <= micrometers(LONGEST_ENGINE)]


def _pickups(layout: Layout, engine: Engine) -> Pickups:
    crawl = float(engine.crawls or limit(layout, "crawl-speed") or 0.0)
    seconds = float(engine.capacitor or 0.0) + (limit(layout, "stall-time") or 0.0)
    light = set(_wheels(engine.unweighted or ()))
    left, right = _wheels(engine.left), _wheels(engine.right)
    return Pickups(
        str(engine.name), engine, left, right, _firm(left, light), _firm(right, light),
        micrometers(seconds * crawl), crawl,
    )  # fmt: skip


def _wheels(places: Iterable[float]) -> Wheels:
    return tuple(sorted({micrometers(place) for place in places}))


def _firm(wheels: Wheels, light: set[int]) -> Wheels:
    return tuple(wheel for wheel in wheels if wheel not in light)
