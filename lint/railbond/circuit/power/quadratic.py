"""How the resistance to a point of a rail runs between two joints of the network: exactly a quadratic of its place.

An ampere put in at a share t of the way from node a to node b does what 1 - t amperes at a and t at b do, and loses
in the rail itself what its two parts in parallel lose:

    R(t) = (1-t)²·Raa + 2·t·(1-t)·Rab + t²·Rbb + r·t·(1-t)

It never bends upwards, for r is at least the resistance between a and b by all ways together.
"""

from __future__ import annotations

from trackplan.record import NamedTuple

from .field import Reach
from .network import Rail


class Quadratic(NamedTuple):
    """`level + slope·x + bend·x²` ohms, x in meters."""

    level: float
    slope: float
    bend: float

    def at(self, x: float) -> float:
        return self.level + x * (self.slope + x * self.bend)

    def plus(self, other: Quadratic) -> Quadratic:
        return Quadratic(self.level + other.level, self.slope + other.slope, self.bend + other.bend)

    def highest(self, length: float) -> float:
        """Where, from 0 to `length`, it is highest."""
        places = [0.0, length]
        if self.bend < 0 and 0 < (top := -self.slope / (2 * self.bend)) < length:
            places.append(top)
        return max(places, key=self.at)


def resistance(rail: Rail, reach: Reach, start: float) -> Quadratic:
    """Ohms from the supply to a point of a rail, x counted from `start` meters along its piece."""
    _, _, one, other, between = reach
    length = rail.stop - rail.start
    if length <= 0:
        return Quadratic(one, 0.0, 0.0)
    slope, bend = 2 * (between - one) + rail.ohms, one + other - 2 * between - rail.ohms
    t = (start - rail.start) / length
    return Quadratic(one + t * (slope + t * bend), (slope + 2 * t * bend) / length, bend / length**2)
