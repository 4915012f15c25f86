"""Rail as a conductor. Its section is estimated from its code.

Heights, bases and heads are those of NMRA RP-15.1; web and fillets are not published there, so the section is taken
as a share of height times base that agrees with measured rail. The resistivity of nickel silver lies between 0.19
and 0.31 µΩ·m by alloy; the value here brings code 83 to the 108 mΩ/m that were measured, and code 100 somewhat
above the 57 and 76 mΩ/m of two measurements: on the careful side. Brass is a third of it (measured, code 100: 19
mΩ/m); steel and the change with temperature are from memory.
"""

from __future__ import annotations

from functools import lru_cache

from trackplan.record import NamedTuple

SECTION = 0.45
"""How much of height times base is metal: an estimate."""
INCH = 25.4

BASES = {55: 55, 70: 70, 83: 80, 100: 90, 148: 132, 250: 224}
"""Thousandths of an inch, by code (RP-15.1)."""


class RailMetal(NamedTuple):
    """Resistivity in µΩ·m (Ω·mm²/m) at 20 °C, and its change for each degree."""

    resistivity: float
    per_degree: float


METALS = {
    "nickel-silver": RailMetal(0.21, 0.0003),
    "brass": RailMetal(0.064, 0.0015),
    "steel": RailMetal(0.17, 0.005),
}


@lru_cache(64)
def rail_resistivity(code: float, metal: str, celsius: float = 20.0) -> float:
    """Ohms of each meter of one rail of that code (its height in thousandths of an inch): an estimate."""
    ohm_meters, per_degree = METALS[metal]
    return ohm_meters * (1 + per_degree * (celsius - 20)) / section(code)


def section(code: float) -> float:
    """Square millimeters of metal, estimated."""
    base = BASES.get(round(code), 0.92 * code)
    return float(SECTION * code * base * (INCH / 1000) ** 2)
