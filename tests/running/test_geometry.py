"""Lengths and clearances of trackwork, against published values where there are any."""

from __future__ import annotations

from itertools import pairwise
from math import atan, degrees

import pytest
from hypothesis import given

from oracle.plans import wild_plans
from railbond.circuit.running.bridges import clearance
from railbond.circuit.running.frogs import Size
from railbond.circuit.running.geometry import Leg
from railbond.circuit.running.standards import blade_clearance, railhead, standard, wheel_of
from running.plans import facts_of, one_turnout, running_of

MM = 1000
INCH = 25_400


def leg(text: str, enter: str, leave: str) -> Leg:
    legs = (leg for legs in running_of(text).track.legs.values() for leg in legs)
    return next(one for one in legs if one.piece == "T1" and (one.enter, one.leave) == (enter, leave))


def size(turnout: str) -> Size:
    return running_of(one_turnout(turnout)).track.size("T1")


@pytest.mark.parametrize(
    ("scale", "gauge", "flangeway", "spread", "back_to_back"),
    [
        # NMRA S-3.2 (gauge min, flangeway max, electrical point spread max) and S-4.2 (back to back min).
        ("O", 1.250, 0.079, 1.159, 1.118),
        ("S", 0.883, 0.050, 0.814, 0.800),
        ("HO", 0.649, 0.050, 0.590, 0.566),
        # NMRA RP-3 and RP-4, N fine.
        ("N", 0.353, 0.025, 0.322, 0.314),
    ],
)
def test_standards(scale: str, gauge: float, flangeway: float, spread: float, back_to_back: float) -> None:
    one = standard(scale)
    assert (one.gauge, one.flangeway, one.spread, one.back_to_back) == (gauge, flangeway, spread, back_to_back)


def test_an_open_blade_stays_clear_by_the_standards() -> None:
    """HO: .566 + .030 = .596 > .590, so .006 inch (derived from NMRA S-4.2, RP-25 code 110 and S-3.2)."""
    assert blade_clearance("HO") == pytest.approx(0.006)
    assert blade_clearance("O") == pytest.approx(1.118 + 0.048 - 1.159)
    assert blade_clearance("G") is None


@pytest.mark.parametrize(("code", "tread"), [(110, 0.080), (88, 0.063)])
def test_wheels(code: int, tread: float) -> None:
    """Tread widths of NMRA RP-25."""
    assert wheel_of(code, None).tread == tread


def test_railheads() -> None:
    """NMRA RP-15.1: code 100 .045, code 83 .040; a code between has a head between."""
    assert (railhead(100), railhead(83)) == (0.045, 0.040)
    assert railhead(90) == pytest.approx(0.040 + 0.005 * 7 / 17)  # in proportion between the rows of RP-15.1
    assert railhead(120) == pytest.approx(0.045 + 0.021 * 20 / 48)
    assert railhead(40) == pytest.approx(0.028 * 40 / 55)


def test_a_wheel_bridges_frog_rails_up_to_number_times_tread_and_head() -> None:
    """Rails closer than tread + head touch both: a length of n·(W + h) behind the point (derived)."""
    wheel = wheel_of(110, "HO")
    for dead in (20, 25, 27.4, 27.5, 30):
        one = size(f"number 6 dead-frog dead {dead} mm")
        bridged = 6 * (wheel.tread + railhead(83)) * INCH
        assert (clearance(one, wheel, 83) >= 0) == (one.clear >= bridged)


def test_a_frog_with_its_rails_is_about_75_mm_long() -> None:
    """HO number 6, live frog as one unit: about 75 mm (common practice)."""
    one = size("number 6 live-frog")
    assert 74 * MM < one.heel + one.throat < 76 * MM


def test_the_number_is_that_of_the_angle() -> None:
    """Frog angle 2·atan(1/2n): number 6 is 9°32', number 8 7°10' (Tratman's table, to the minute)."""
    for number, angle in ((5, 11 + 25 / 60), (6, 9 + 32 / 60), (8, 7 + 10 / 60), (10, 5 + 44 / 60), (20, 2 + 52 / 60)):
        assert degrees(2 * atan(1 / (2 * number))) == pytest.approx(angle, abs=1 / 60)


def test_the_dead_length_is_what_the_plan_says_or_grows_with_the_number() -> None:
    assert (size("number 6 dead-frog dead 22 mm").dead, size("number 6 dead-frog dead 22 mm").told) == (22 * MM, True)
    lengths = [size(f"number {number} dead-frog").dead for number in (4, 5, 6, 8, 10)]
    assert lengths == sorted(lengths)
    # 6·(.050 + 2·.040 + .020) inch: derived from S-3.2's flangeway, RP-15.1's code 83 head and the stated clearance.
    assert size("number 6 dead-frog").dead == pytest.approx(0.9 * INCH, abs=1)


def test_which_rail_has_the_frog() -> None:
    """Left-hand, looking from the points: through, the frog lies under the left wheels; diverging, the right."""
    text = one_turnout("number 6 dead-frog dead 22 mm")
    for leave, rail, other in (("through", "left", "right"), ("diverging", "right", "left")):
        one = leg(text, "points", leave)
        assert [stretch.metal for stretch in getattr(one, rail)].count(None) == 1
        assert len(getattr(one, other)) == 1
        back = leg(text, leave, "points")
        assert [stretch.metal for stretch in getattr(back, other)].count(None) == 1


def test_a_frog_is_as_far_from_the_points_either_way() -> None:
    text = one_turnout("number 6 isolated-frog")
    there, back = leg(text, "points", "through"), leg(text, "through", "points")
    (frog,) = (one for one in there.left if one.metal == 6)
    (same,) = (one for one in back.right if one.metal == 6)
    assert (same.start, same.stop) == (there.length - frog.stop, there.length - frog.start)


@given(wild_plans(max_turnouts=5))
def test_every_rail_is_whole_from_end_to_end(text: str) -> None:
    """Each leg's rails begin at 0, end at its length, and have no hole; run backwards twice it is the same."""
    from railbond.circuit.running.walking import WalkedTrack

    for legs in WalkedTrack(facts_of(text).wiring).legs.values():
        for one in legs:
            assert one.turned().turned() == one
            for rail in (one.left, one.right):
                assert rail[0].start == 0 and rail[-1].stop == one.length
                assert all(here.stop == there.start for here, there in pairwise(rail))
