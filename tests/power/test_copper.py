"""Copper and rail against published values."""

from __future__ import annotations

import pytest

from railbond.circuit.power.copper import AMERICAN, METRIC, carries, resistivity, thicker
from railbond.circuit.power.elimination import Elimination
from railbond.circuit.power.rail import METALS, rail_resistivity, section
from trackplan.quantities import WireSize, amount

FOOT = 0.3048


def size(text: str) -> WireSize:
    return WireSize(amount("SIZE", text), text)


# Ω for 1,000 ft at 20 °C: HyperPhysics, American Wire Gauge (seen).
@pytest.mark.parametrize(
    ("awg", "ohms"),
    [(10, 0.9989), (12, 1.588), (14, 2.525), (16, 4.016), (18, 6.385), (20, 10.15), (22, 16.14), (24, 25.67),
     (26, 40.81)],
)  # fmt: skip
def test_american_wire(awg: int, ohms: float) -> None:
    assert resistivity(size(f"{awg} AWG")) * 1000 * FOOT == pytest.approx(ohms, rel=5e-4)


# IEC 60228, class 5: the most that a meter may have, Ω/km (seen). Wire that may be stranded counts so.
@pytest.mark.parametrize(("area", "most"), [(0.5, 39.0), (0.75, 26.0), (1.0, 19.5), (1.5, 13.3), (2.5, 7.98)])
@pytest.mark.parametrize("kind", ["", " stranded"])
def test_metric_wire(area: float, most: float, kind: str) -> None:
    assert resistivity(size(f"{area:g} mm2{kind}")) * 1000 == pytest.approx(most)
    assert resistivity(size(f"2x {area:g} mm²{kind}")) * 2000 == pytest.approx(most)


# IEC 60228, class 1 (from memory).
@pytest.mark.parametrize(("area", "most"), [(0.5, 36.0), (0.75, 24.5), (1.0, 18.1), (1.5, 12.1), (2.5, 7.41)])
def test_solid_metric_wire(area: float, most: float) -> None:
    assert resistivity(size(f"{area:g} mm2 solid")) * 1000 == pytest.approx(most)


@pytest.mark.parametrize("area", [0.14, 0.25, 0.34, 0.6, 1.2, 2.0, 3.0, 5.0])
def test_a_metric_size_between_the_standards_is_no_better_than_its_neighbors(area: float) -> None:
    """13 to 16 % above copper of just that section, as the sizes of the standard are."""
    over = resistivity(size(f"{area:g} mm2")) * area / 0.017241
    assert 1.13 < over < 1.16


def test_strands_warmth_and_parallel_wires() -> None:
    plain = resistivity(size("14 AWG"))
    assert resistivity(size("14 AWG stranded")) == pytest.approx(1.02 * plain)  # standard increment, ASTM B496 (seen)
    assert resistivity(size("14 AWG"), 40) == pytest.approx((1 + 20 * 0.00393) * plain)  # IEC 60028 (seen)
    assert resistivity(size("2x 14 AWG")) == pytest.approx(plain / 2)


# NFPA 70 (2023) table 310.16 at 60 °C (seen); table 402.5 (18 and 16 AWG, memory).
@pytest.mark.parametrize(("awg", "amperes"), [(18, 6), (16, 8), (14, 15), (12, 20), (10, 30)])
def test_what_a_run_carries(awg: int, amperes: float) -> None:
    assert carries(size(f"{awg} AWG"), short=False) == pytest.approx(amperes)


# Chassis wiring: Handbook of Electronic Tables and Formulas (seen).
@pytest.mark.parametrize(("awg", "amperes"), [(16, 22), (18, 16), (20, 11), (22, 7), (24, 3.5), (26, 2.2)])
def test_what_a_short_drop_carries(awg: int, amperes: float) -> None:
    assert carries(size(f"{awg} AWG"), short=True) == pytest.approx(amperes)


def test_what_is_between_the_tables() -> None:
    assert 8 < carries(size("1.5 mm2"), short=False) < 15  # between 16 AWG (1.31 mm²) and 14 AWG (2.08 mm²)
    assert carries(size("2x 14 AWG"), short=False) == pytest.approx(30)
    assert carries(size("22 AWG"), short=False) < 6
    sizes = [carries(size(f"{awg} AWG"), short=False) for awg in AMERICAN]
    assert sizes == sorted(sizes)


def test_thicker_wires() -> None:
    assert [one.text for one in thicker(size("14 AWG"))] == ["12 AWG", "10 AWG", "2x 12 AWG", "2x 10 AWG"]
    assert [one.text for one in thicker(size("1.5 mm2 stranded"))][:2] == ["2.5 mm2 stranded", "4 mm2 stranded"]
    assert [one.text for one in thicker(size("0.34 mm2"), short=True)][-1] == f"{METRIC[-1]:g} mm2"
    for one in thicker(size("22 AWG")):
        assert one == amount("SIZE", one.text)


# One code 100 nickel-silver rail: 57 and 76 mΩ/m in two published measurements; code 83 108 mΩ/m; brass code 100
# 0.48 mΩ per inch beside 1.45 for nickel silver (published measurement, seen).
def test_measured_rail() -> None:
    assert 0.057 * 0.9 < rail_resistivity(100, "nickel-silver") < 0.076 * 1.2
    assert rail_resistivity(83, "nickel-silver") == pytest.approx(0.108, rel=0.1)
    ratio = rail_resistivity(100, "brass") / rail_resistivity(100, "nickel-silver")
    assert ratio == pytest.approx(0.48 / 1.45, rel=0.15)


def test_rail_by_code_and_metal() -> None:
    for metal in METALS:
        ohms = [rail_resistivity(code, metal) for code in (55, 70, 83, 100, 148, 250)]
        assert ohms == sorted(ohms, reverse=True)
    assert 0.19 <= METALS["nickel-silver"].resistivity <= 0.31  # 5.5 to 9 % IACS by alloy (seen)


# Heights and bases: NMRA RP-15.1 (seen). No section can be more than its box.
@pytest.mark.parametrize(("code", "base"), [(100, 0.090), (83, 0.080), (70, 0.070), (55, 0.055), (148, 0.132)])
def test_a_rail_is_less_than_its_box(code: int, base: float) -> None:
    assert 0.3 < section(code) / (code / 1000 * base * 25.4**2) < 0.7


def test_the_textbook_line_there_and_back() -> None:
    """20 A through 100 ft of 12 AWG and back: 6.35 V (seen; derived again)."""
    assert 20 * 2 * 100 * FOOT * resistivity(size("12 AWG")) == pytest.approx(6.35, abs=0.005)


def test_the_textbook_distributor() -> None:
    """300 V, 0.02 Ω for 1,000 m of loop: 295.0, 291.0, 288.0, 287.6 V (seen, a textbook's DC distributor)."""
    ohms = [meters * 0.02 / 1000 for meters in (500, 500, 600, 400)]
    links = [(node, node + 1, 1 / ohms[node + 1]) for node in range(3)]
    lost = Elimination(4, links, {0: 1 / ohms[0]}).voltages(dict(enumerate((100, 150, 200, 50))))
    assert [300 - volts for volts in lost] == pytest.approx([295.0, 291.0, 288.0, 287.6])


def test_a_load_spread_evenly() -> None:
    """Fed from one end it drops what the whole load at the middle would (seen)."""
    links = [(node, node + 1, 1000.0) for node in range(999)]
    line = Elimination(1000, links, {0: 1000.0})
    spread = line.voltages(dict.fromkeys(range(1000), 1 / 1000))
    assert spread[999] == pytest.approx(line.voltages({499: 1.0})[999], rel=2e-3)
