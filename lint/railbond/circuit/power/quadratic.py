"""How the resistance to a point of a rail runs between two joints of the network: exactly a quadratic of its place.

An ampere put in at a share t of the way from node a to node b does what 1 - t amperes at a and t at b do, and loses
in the rail itself what its two parts in parallel lose:

    R(t) = (1-t)²·Raa + 2·t·(1-t)·Rab + t²·Rbb + r·t·(1-t)

It never bends upwards, for r is at least the resistance between a and b by all ways together.
"""

from __future__ import annotations

from .field import Reach
from .network import Rail

Quadratic = tuple[float, float, float]
"""`level`, `slope` and `bend` of `level + slope·x + bend·x²` ohms, x in meters."""


def resistance(rail: Rail, reach: Reach, start: float) -> Quadratic:
    """Ohms from the supply to a point of a rail, x counted from `start` meters along its piece."""
    _, _, ohms, begins, ends = rail
    _, _, one, other, between = reach
    length = ends - begins
    if length <= 0:
        return one, 0.0, 0.0
    slope, bend = 2 * (between - one) + ohms, one + other - 2 * between - ohms
    t = (start - begins) / length
    return one + t * (slope + t * bend), (slope + 2 * t * bend) / length, bend / length**2


def at(quadratic: Quadratic, x: float) -> float:
    """Ohms at one place."""
    level, slope, bend = quadratic
    return level + x * (slope + x * bend)


def highest(one: Quadratic, other: Quadratic, length: float) -> tuple[float, float]:
    """The most ohms of two rails together, from 0 to `length`, and where that is."""
    sum_ = level, slope, bend = one[0] + other[0], one[1] + other[1], one[2] + other[2]
    best = level, 0.0
    if length > 0:
        if (last := at(sum_, length)) > level:
            best = last, length
        if bend < 0 and 0 < (top := -slope / (2 * bend)) < length and (most := at(sum_, top)) > best[0]:
            best = most, top
    return best
