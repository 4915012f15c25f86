"""Quantities as a plan writes them: numbers in SI units that remember how they were typed.

Each is a float, so it computes like one; `text` is what the plan says and `start`, `end` its place in the
statement. Sources: the inch is 25.4 mm exactly (international yard and pound, 1959); American wire sizes
after ASTM B258.
"""

from __future__ import annotations

from functools import lru_cache

from .record import NamedTuple
from .span import Word

INCH = 0.0254
FOOT = 0.3048


class Quantity(float):
    """A number with its unit. Subclasses say which SI unit the float is in. `lead` is as a word's."""

    __slots__ = ("text", "start", "end", "lead")
    text: str
    start: int
    end: int
    lead: tuple[Word, ...]

    def __new__(cls, value: float, text: str = "", start: int = 0, end: int = 0) -> Quantity:
        quantity = float.__new__(cls, value)
        quantity.text = text or f"{value:g}"
        quantity.start = start
        quantity.end = end
        quantity.lead = ()
        return quantity


class Length(Quantity):
    """Meters."""

    __slots__ = ()


class WireSize(Quantity):
    """Copper cross-section in square millimeters, whether typed as `mm2` or as `AWG`, of all wires together."""

    __slots__ = ()

    @property
    def wires(self) -> int:
        """How many wires lie side by side: 2 in `2x 14 AWG`."""
        times, by, _ = self.text.partition("x")
        return int(times) if by else 1

    @property
    def stranded(self) -> bool:
        return self.text.endswith("stranded")

    @property
    def solid(self) -> bool:
        return self.text.endswith("solid")

    @property
    def metric(self) -> bool:
        return "mm" in self.text


class Voltage(Quantity):
    """Volts."""

    __slots__ = ()


class Current(Quantity):
    """Amperes."""

    __slots__ = ()


class Angle(Quantity):
    """Degrees."""

    __slots__ = ()


class Temperature(Quantity):
    """Degrees Celsius."""

    __slots__ = ()


class Share(Quantity):
    """A part of one: `5 %` is 0.05."""

    __slots__ = ()


class Number(Quantity):
    """A bare number where the language wants one: `number 6`, `code 83`."""

    __slots__ = ()


class Resistance(Quantity):
    """Ohms."""

    __slots__ = ()


class Duration(Quantity):
    """Seconds."""

    __slots__ = ()


class Speed(Quantity):
    """Meters per second."""

    __slots__ = ()


class Measure(NamedTuple):
    """A kind of quantity: its units in SI, the largest value that can be meant, and an example."""

    type: type[Quantity]
    units: dict[str, float]
    most: float
    example: str


# By the name of the terminal in plan.lark. AWG and F are no factors, see `copper_area` and `celsius`.
MEASURES = {
    "LENGTH": Measure(Length, {"mm": 1e-3, "cm": 1e-2, "m": 1.0, "in": INCH, "ft": FOOT}, 10_000, "90 cm"),
    "SIZE": Measure(WireSize, {"AWG": 0.0, "mm2": 1.0, "mm²": 1.0}, 1000, "14 AWG"),
    "VOLTAGE": Measure(Voltage, {"V": 1.0}, 1000, "15 V"),
    "CURRENT": Measure(Current, {"A": 1.0, "mA": 1e-3}, 1000, "4 A"),
    "RESISTANCE": Measure(Resistance, {"ohm": 1.0, "mohm": 1e-3}, 1e6, "20 mohm"),
    "ANGLE": Measure(Angle, {"degrees": 1.0}, 360, "19 degrees"),
    "TEMPERATURE": Measure(Temperature, {"C": 1.0, "F": 0.0}, 1000, "40 C"),
    "SHARE": Measure(Share, {"%": 1e-2}, 1, "5 %"),
    "DURATION": Measure(Duration, {"s": 1.0, "ms": 1e-3}, 1e6, "200 ms"),
    "SPEED": Measure(Speed, {"m/s": 1.0, "cm/s": 1e-2, "mm/s": 1e-3}, 100, "20 mm/s"),
    "NUMBER": Measure(Number, {"": 1.0}, 1e9, "6"),
}
LONGEST = 1_000
"""Characters of a quantity; with thousands of digits it is no slip of a hand, and takes long to count with."""


def read_quantity(kind: str, text: str, start: int = 0) -> Quantity:
    """A quantity as typed. Raises ValueError, with what is wrong in plain words, where it makes no sense."""
    return MEASURES[kind].type(amount(kind, text), text, start, start + len(text))


@lru_cache(4096)
def amount(kind: str, text: str) -> float:
    """The SI value of a typed quantity."""
    if len(text) > LONGEST:
        raise ValueError(f"`{shorten(text)}` has more digits than any number needs")
    _, units, most, _ = MEASURES[kind]
    number, unit = figure_and_unit(text)
    if kind == "SIZE":
        value = copper_area(text)
    elif unit == "F":
        value = celsius(float(number))
    elif unit in units:
        value = float(number) * units[unit]
    else:
        value = feet_and_inches(number, unit.removeprefix("ft").removesuffix("in").strip())
    if value > most:
        raise ValueError(f"`{shorten(text)}` is more than any plan can mean")
    return value


def figure_and_unit(text: str) -> tuple[str, str]:
    """The digits that a quantity begins with, and what stands behind them."""
    unit = text.lstrip("0123456789./")
    return text[: len(text) - len(unit)], unit.strip()


def share_unit(numbers: list[Number], last: Length) -> tuple[Length, ...]:
    """Numbers in the unit of the length that ends their list: `0 31 62 mm`."""
    unit = last.text.lstrip("0123456789. \t")
    if numbers and unit not in MEASURES["LENGTH"].units:
        raise ValueError(f"`{last.text}` ends a list, where one unit serves all, such as `0 31 62 mm`")
    texts = [(f"{number.text} {unit}", number) for number in numbers]
    return *(Length(amount("LENGTH", text), text, one.start, one.end) for text, one in texts), last


def copper_area(text: str) -> float:
    """Square millimeters of a wire size as typed, such as `2x 14 AWG stranded`."""
    times, _, size = text.rpartition("x")
    number, unit = figure_and_unit(size.lstrip())
    return int(times or 1) * (awg_area(awg_number(number)) if unit.startswith("AWG") else float(number))


def celsius(fahrenheit: float) -> float:
    return (fahrenheit - 32) / 1.8


def feet_and_inches(feet: str, inches: str) -> float:
    if float(inches) >= 12:
        raise ValueError(f"`{shorten(inches)} in` after feet is a foot or more")
    return float(feet) * FOOT + float(inches) * INCH


def awg_number(size: str) -> int:
    """36 to 0 as typed, and 0 to -3 for 1/0 to 4/0."""
    if size.endswith("/0"):
        return 1 - int(size[0])
    if not size.isdigit() or len(size) > 2 or int(size) > 40:
        raise ValueError(f"`{shorten(size)} AWG` is no wire: sizes are 4/0 to 1/0 and whole numbers up to 40")
    return int(size)


def shorten(text: str, most: int = 40) -> str:
    """A text for a message, cut where it is long."""
    return text if len(text) <= most else text[: most - 1] + "…"


def awg_area(number: int) -> float:
    """Cross-section in mm² of an American wire size; 0, -1, -2, -3 stand for 1/0 to 4/0 (ASTM B258)."""
    diameter: float = 0.005 * INCH * 1000 * 92 ** ((36 - number) / 39)
    return 3.141592653589793 / 4 * diameter**2
