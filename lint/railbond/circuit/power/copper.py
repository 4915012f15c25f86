"""Copper wire: its resistance, what it carries, and the sizes that are sold.

Resistance: annealed copper at 20 °C after IEC 60028; sizes after ASTM B258. Of a metric size, which is a name and not
a section, the most that IEC 60228 admits for plain copper: class 1 for wire that is said to be solid, else class 5, as
the worst counts (class 5 up to 2.5 mm² as published, the rest from memory). What a wire carries: for runs NFPA 70
(2023) table 310.16 at 60 °C (14 to 10 AWG) and table 402.5 (18 and 16 AWG, from memory); for short drops in free
air the chassis wiring column of the Handbook of Electronic Tables and Formulas.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterable
from functools import cache

from trackplan.quantities import WireSize, amount
from trackplan.statements import Bus, Feeder

RESISTIVITY = 0.017241
"""Ω·mm²/m at 20 °C."""
PER_DEGREE = 0.00393
LAY = 1.02
"""The strands of a stranded wire are longer than it by 2 %: the standard increment of ASTM B496."""
SHORT = 1.0
"""Meters up to which a feeder counts as a short drop in free air (a judgment)."""

THICKEST_DROP = 0.85
"""mm² of a drop: 18 AWG or 0.75 mm² at most. More takes so much heat that ties melt (common practice)."""

_SOLID = {0.5: 36.0, 0.75: 24.5, 1.0: 18.1, 1.5: 12.1, 2.5: 7.41, 4.0: 4.61, 6.0: 3.08, 10.0: 1.83}
_FLEXIBLE = {0.5: 39.0, 0.75: 26.0, 1.0: 19.5, 1.5: 13.3, 2.5: 7.98, 4.0: 4.95, 6.0: 3.30, 10.0: 1.91}
"""Ω/km of a metric size, in mm²."""

AMERICAN = (26, 24, 22, 20, 18, 16, 14, 12, 10)
METRIC = (0.14, 0.25, 0.34, 0.5, 0.75, 1.0, 1.5, 2.5, 4.0, 6.0)

_RUNS = {18: 6.0, 16: 8.0, 14: 15.0, 12: 20.0, 10: 30.0}
_DROPS = {26: 2.2, 24: 3.5, 22: 7.0, 20: 11.0, 18: 16.0, 16: 22.0}


def resistivity(size: WireSize, celsius: float = 20.0) -> float:
    """Ohms of each meter of one leg, all its parallel wires together, at the worst that the standards admit."""
    worse = _worse(size) if size.metric else LAY if size.stranded else 1.0
    return RESISTIVITY * worse * (1 + PER_DEGREE * (celsius - 20)) / float(size)


def _worse(size: WireSize) -> float:
    """How much more a metric size may have than copper of just that section; of a size that the standard does not have,
    as the worse of its neighbors."""
    table, area = _SOLID if size.solid else _FLEXIBLE, float(size) / size.wires
    sizes = sorted(table)
    place = bisect_left(sizes, area)
    near = sizes[max(place - 1, 0) : place + 1] if area not in table else [area]
    return max(table[one] * one / 1000 for one in near) / RESISTIVITY


def is_short(wire: Bus | Feeder, length: float | None) -> bool:
    """Whether a wire is a short drop in free air; a feeder of unknown length is taken for one."""
    return isinstance(wire, Feeder) and (length is None or length <= SHORT)


def carries(size: WireSize, short: bool) -> float:
    """Amperes that a leg carries for as long as it is asked to; `short` is a short drop in free air.

    Between two sizes of a table it follows the straight line of their logarithms, and beyond its ends the last
    such line: an estimate there.
    """
    return size.wires * _between(_points(short), float(size) / size.wires)


def thicker(size: WireSize, short: bool = False) -> list[WireSize]:
    """The sizes above this one that are sold, in the same system, thinnest first; then pairs of the thickest two."""
    american = [f"{number} AWG" for number in AMERICAN]
    names = american if "AWG" in size.text else [f"{area:g} mm2" for area in METRIC]
    names += [] if short else [f"2x {name}" for name in names[-2:]]
    kind = " stranded" if size.stranded else ""
    sizes = [WireSize(amount("SIZE", name), name + kind) for name in names]
    return [one for one in sizes if one > size * 1.001]


def solderable(sizes: Iterable[WireSize]) -> list[WireSize]:
    """Those of some sizes that are soldered to a rail."""
    return [one for one in sizes if float(one) <= THICKEST_DROP]


def enough(size: WireSize, short: bool, amperes: float) -> WireSize:
    """This size, or the thinnest above it that carries so many amperes; the thickest where none does."""
    sizes = [size, *thicker(size, short)]
    return next((one for one in sizes if carries(one, short) >= amperes), sizes[-1])


@cache
def _points(short: bool) -> list[tuple[float, float]]:
    """What is carried by each size of the table for drops, or runs, in mm²."""
    table = _DROPS if short else _RUNS
    return [(amount("SIZE", f"{number} AWG"), amperes) for number, amperes in table.items()]


def _between(points: list[tuple[float, float]], area: float) -> float:
    """A table's value at an area, by its logarithms."""
    place = bisect_left(points, (area,))
    if place < len(points) and points[place][0] == area:
        return points[place][1]
    from math import log

    place = min(max(place, 1), len(points) - 1)
    (low, here), (high, there) = points[place - 1 : place + 1]
    share = log(area / low) / log(high / low)
    return float(here * (there / here) ** share)
