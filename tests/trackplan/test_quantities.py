"""Units as typed, in SI; the sizes of American wire against the published ones."""

from __future__ import annotations

import math

import pytest

from trackplan.quantities import MEASURES, amount, awg_area, read_quantity
from trackplan.tables import PATTERN

# Exact by definition: the inch is 25.4 mm, the foot 12 inches (international yard and pound, 1959).
UNITS = [
    ("LENGTH", "600 mm", 0.6), ("LENGTH", "90 cm", 0.9), ("LENGTH", "2.4 m", 2.4), ("LENGTH", "11 in", 0.2794),
    ("LENGTH", "3 ft", 0.9144), ("LENGTH", "3 ft 6 in", 1.0668), ("LENGTH", "3ft 6.5in", 1.0795),
    ("SIZE", "1.5 mm2", 1.5), ("SIZE", "1.5 mm²", 1.5), ("SIZE", "2x 1.5 mm2 stranded", 3),
    ("VOLTAGE", "15 V", 15), ("CURRENT", "4 A", 4),
    ("CURRENT", "400 mA", 0.4), ("ANGLE", "19 degrees", 19), ("SHARE", "5 %", 0.05), ("SHARE", "5%", 0.05),
    ("TEMPERATURE", "40 C", 40), ("TEMPERATURE", "104 F", 40),
    ("RESISTANCE", "2 ohm", 2), ("RESISTANCE", "20 mohm", 0.02), ("DURATION", "200 ms", 0.2), ("DURATION", "2 s", 2),
    ("SPEED", "20 mm/s", 0.02), ("SPEED", "2 cm/s", 0.02), ("SPEED", "0.5 m/s", 0.5), ("NUMBER", "6", 6),
]  # fmt: skip


@pytest.mark.parametrize(("kind", "text", "value"), UNITS)
def test_unit(kind: str, text: str, value: float) -> None:
    quantity = read_quantity(kind, text, 7)
    assert quantity == pytest.approx(value, rel=1e-12)
    assert type(quantity) is MEASURES[kind].type
    assert (quantity.text, quantity.start, quantity.end) == (text, 7, 7 + len(text))


def test_every_unit_is_tried() -> None:
    tried = {(kind, unit) for kind, text, _ in UNITS for unit in MEASURES[kind].units if text.endswith(unit)}
    assert tried == {(kind, unit) for kind, measure in MEASURES.items() for unit in measure.units} - {("SIZE", "AWG")}


def test_grammar_and_measures_know_the_same_units() -> None:
    import re

    pattern = re.compile(PATTERN)
    for kind, measure in MEASURES.items():
        for unit in measure.units:
            match = pattern.fullmatch(f"3 {unit}".rstrip())
            assert match and match.lastgroup == kind


# ASTM B258: 0.005 inch · 92^((36 − n)/39), from memory; diameters seen in HyperPhysics, American Wire Gauge.
@pytest.mark.parametrize(
    ("size", "inches"),
    [(10, 0.10189), (12, 0.0808), (14, 0.06408), (16, 0.05082), (18, 0.0403), (20, 0.03196), (22, 0.02535),
     (24, 0.0201), (26, 0.01594)],
)  # fmt: skip
def test_american_wire_sizes(size: int, inches: float) -> None:
    diameter = math.sqrt(awg_area(size) * 4 / math.pi) / 25.4
    assert diameter == pytest.approx(inches, abs=6e-5)
    assert amount("SIZE", f"{size} AWG") == awg_area(size)


def test_fourteen_gauge_and_the_sizes_above_zero() -> None:
    assert round(awg_area(14), 2) == 2.08  # from the formula of ASTM B258, itself from memory
    assert amount("SIZE", "1/0 AWG") == awg_area(0)
    largest = math.pi / 4 * (0.46 * 25.4) ** 2  # 4/0 is 0.46 inch thick, from memory
    assert amount("SIZE", "4/0 AWG") == awg_area(-3) == pytest.approx(largest)


@pytest.mark.parametrize(
    ("kind", "text", "told"),
    [
        ("SIZE", "22.5 AWG", "`22.5 AWG` is no wire"),
        ("SIZE", "41 AWG", "`41 AWG` is no wire"),
        ("LENGTH", "3 ft 12 in", "`12 in` after feet is a foot or more"),
        ("LENGTH", "9" * 400 + " m", "is more than any plan can mean"),
        ("LENGTH", "10001 m", "`10001 m` is more than any plan can mean"),
        ("SHARE", "101 %", "`101 %` is more than any plan can mean"),
    ],
)
def test_what_makes_no_sense(kind: str, text: str, told: str) -> None:
    with pytest.raises(ValueError, match=told):
        read_quantity(kind, text)


@pytest.mark.parametrize("number", ["1" * 9_900, "0" * 9_900 + "1", "0." + "1" * 9_900])
def test_numbers_of_thousands_of_digits_are_refused_by_their_length(number: str) -> None:
    with pytest.raises(ValueError, match="more digits than any number needs"):
        read_quantity("LENGTH", f"{number} m")
