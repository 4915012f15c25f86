"""Quantities as a plan writes them: numbers in SI units that remember how they were typed.

Each is a float, so it computes like one; `text` is what the plan says and `start`, `end` its place in the
statement. Sources: the inch is 25.4 mm exactly (international yard and pound, 1959); American wire sizes
after ASTM B258.
"""

from __future__ import annotations

INCH = 0.0254
FOOT = 0.3048


class Quantity(float):
    """A number with its unit. Subclasses say which SI unit the float is in."""

    __slots__ = ("text", "start", "end")
    text: str
    start: int
    end: int

    def __new__(cls, value: float, text: str = "", start: int = 0, end: int = 0) -> Quantity:
        quantity = super().__new__(cls, value)
        quantity.text = text or f"{value:g}"
        quantity.start = start
        quantity.end = end
        return quantity


class Length(Quantity):
    """Metres."""

    __slots__ = ()


class WireSize(Quantity):
    """Copper cross-section in square millimetres, whether typed as `mm2` or as `AWG`."""

    __slots__ = ()


class Voltage(Quantity):
    """Volts."""

    __slots__ = ()


class Current(Quantity):
    """Amperes."""

    __slots__ = ()


class Angle(Quantity):
    """Degrees."""

    __slots__ = ()


class Share(Quantity):
    """A part of one: `5 %` is 0.05."""

    __slots__ = ()


class Number(Quantity):
    """A bare number where the language wants one: `number 6`, `code 83`."""

    __slots__ = ()


def awg_area(number: int) -> float:
    """Cross-section in mm² of an American wire size; 0, -1, -2, -3 stand for 1/0 to 4/0 (ASTM B258)."""
    diameter = 0.005 * INCH * 1000 * 92 ** ((36 - number) / 39)
    return 3.141592653589793 / 4 * diameter**2
