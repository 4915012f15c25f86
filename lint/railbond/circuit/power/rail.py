"""Rail as a conductor. Its section is estimated from its code, and a turnout's length from its number.

Heights, bases and heads are those of NMRA RP-15.1; web and fillets are not published there, so the section is taken
as a share of height times base that agrees with measured rail. The resistivity of nickel silver lies between 0.19
and 0.31 µΩ·m by alloy; the value here brings code 83 to the 108 mΩ/m that were measured, and code 100 somewhat
above the 57 and 76 mΩ/m of two measurements: on the careful side. Brass is a third of it (measured, code 100: 19
mΩ/m); steel and the change with temperature are from memory.
"""

from __future__ import annotations

from typing import NamedTuple

SECTION = 0.45
"""How much of height times base is metal: an estimate."""
INCH = 25.4

BASES = {55: 55, 70: 70, 83: 80, 100: 90, 148: 132, 250: 224}
"""Thousandths of an inch, by code (RP-15.1)."""

CODES = {"N": 55, "TT": 70, "HO": 83, "S": 83, "O": 148}
"""The code that a scale's track commonly has: common practice."""
USUAL_CODE = 83
GAUGES = {"N": 9.0, "TT": 12.0, "HO": 16.5, "S": 22.5, "O": 32.0}
"""Millimetres between the rails."""
USUAL_NUMBER = 6.0


class Metal(NamedTuple):
    """Resistivity in µΩ·m (Ω·mm²/m) at 20 °C, and its change for each degree."""

    resistivity: float
    per_degree: float


METALS = {
    "nickel-silver": Metal(0.21, 0.0003),
    "brass": Metal(0.064, 0.0015),
    "steel": Metal(0.17, 0.005),
}


def rail_resistivity(code: float, metal: str, celsius: float = 20.0) -> float:
    """Ohms of each metre of one rail of that code (its height in thousandths of an inch): an estimate."""
    ohm_metres, per_degree = METALS[metal]
    return ohm_metres * (1 + per_degree * (celsius - 20)) / section(code)


def section(code: float) -> float:
    """Square millimetres of metal, estimated."""
    base = BASES.get(round(code), 0.92 * code)
    return float(SECTION * code * base * (INCH / 1000) ** 2)


def usual_code(scale: str | None) -> int:
    """The code to be taken for rail whose code no line says."""
    return CODES.get(_family(scale), USUAL_CODE)


def turnout_length(number: float | None, scale: str | None) -> float:
    """Metres from the points' end to the frog's ends: 2·number + 6 gauges, an estimate from common practice."""
    gauge = GAUGES.get(_family(scale), GAUGES["HO"])
    return (2 * (number or USUAL_NUMBER) + 6) * gauge / 1000


def _family(scale: str | None) -> str:
    """`HO` for HO, H0 and narrow gauges such as HOn3."""
    name = (scale or "").upper().replace("0", "O")
    return max((known for known in CODES if name.startswith(known)), key=len, default="")
