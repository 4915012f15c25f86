"""What the trade knows of loops, reversing sections and boundaries, held against the oracle.

All of it is common practice, and follows from following each rail round.
"""

from __future__ import annotations

import pytest

from oracle.brute import Brute
from oracle.facts import errors, troubles
from oracle.plan_model import model_of
from oracle.reversing import left_over, reverses_by_color, reverses_by_cycles

POWER = "booster B1 15 V 5 A\ndistrict power from B1\nblock shelf in power\nreverser turner in power\n"
BOND = "bond T1 closure rails to stock rails"

BALLOON = """turnout T1 left dead-frog
segment west stop -> T1.points 90 cm
segment loop T1.through -> T1.diverging 3 m
"""
WYE = """turnout T1 left dead-frog
turnout T2 left dead-frog
turnout T3 left dead-frog
segment west stop -> T1.points 90 cm
segment east stop -> T2.points 90 cm
segment south stop -> T3.points 90 cm
segment a T1.through -> T2.diverging 90 cm
segment b T2.through -> T3.diverging 90 cm
segment c T3.through -> T1.diverging 90 cm
"""
SIDING = """turnout T1 left dead-frog
turnout T2 right dead-frog
segment west stop -> T1.points 90 cm
segment middle T1.through -> T2.through 2 m
segment siding T2.diverging -> T1.diverging 2 m
segment east T2.points -> stop 90 cm
"""
LONG_BALLOON = BALLOON.replace("T1.diverging", "J") + "segment back T1.diverging -> J 3 m\n"
THREE = """segment north A -> B 2 m
segment south A -> C 2 m
segment east C -> B 2 m
"""
CIRCLE = """segment north A -> B 2 m
segment south A -> B 2 m
"""


@pytest.mark.parametrize(
    "lines, turns",
    [(BALLOON, True), (LONG_BALLOON, True), (WYE, True), (SIDING, False), (CIRCLE, False), (THREE, False)],
    ids=["balloon loop", "the same in two pieces", "wye", "passing siding", "circle", "circle of three"],
)
def test_which_track_reverses(lines: str, turns: bool) -> None:
    meetings = left_over(Brute(model_of(POWER + lines)))
    assert reverses_by_cycles(meetings) == reverses_by_color(meetings) == turns


def plan(*lines: str) -> str:
    return POWER + "\n".join(lines)


@pytest.mark.parametrize("feeder", ["feeder power -> west", "feeder power -> loop crossed", "feeder turner -> loop"])
def test_a_balloon_loop_without_gaps_shorts_however_it_is_fed(feeder: str) -> None:
    """The loop brings the left rail round to the right one."""
    assert "legs joined" in errors(plan(BALLOON, feeder))


LOOP_FEEDS = ["feeder power -> west", "feeder turner -> loop", BOND]
BOTH_ENDS = ["gap loop.start both rails", "gap loop.finish both rails"]


def test_a_reversing_section_gapped_on_both_rails_at_both_ends_is_sound() -> None:
    assert not troubles(plan(BALLOON, *LOOP_FEEDS, *BOTH_ENDS))


@pytest.mark.parametrize("rail", ["left rail", "right rail"])
def test_one_rail_uncut_at_one_end_undoes_it(rail: str) -> None:
    found = errors(plan(BALLOON, *LOOP_FEEDS, BOTH_ENDS[0], f"gap loop.finish {rail}"))
    assert {"reverses", "districts joined"} <= found.keys()


def test_gapped_but_fed_by_the_same_district_a_wheel_shorts_at_one_end() -> None:
    """Left is red on the loop and, going in, at T1: right where it begins, wrong where it comes back."""
    found = troubles(plan(BALLOON, "feeder power -> west", "feeder power -> loop", BOND, *BOTH_ENDS))
    left, right = ("loop", "left", 0), ("loop", "right", 0)
    stock, frog_rail = ("T1", "diverging stock rail"), ("T1", "diverging frog rail")
    assert found.keys() == {"opposed passes", "reverses"}
    assert found["opposed passes"] == {(left, frog_rail), (right, stock)}


# boundaries

TWO = """district yard from B1
segment west stop -> J 90 cm
segment east J -> stop 90 cm
feeder power -> west
"""


def test_two_districts_in_phase_meet_only_across_gaps_in_both_rails() -> None:
    assert "districts joined" in errors(plan(TWO, "feeder yard -> east"))
    assert "districts joined" in errors(plan(TWO, "feeder yard -> east", "gap J left rail"))
    assert not troubles(plan(TWO, "feeder yard -> east", "gap J both rails"))


def test_two_districts_out_of_phase_short_through_the_wheels_at_the_gaps() -> None:
    found = troubles(plan(TWO, "feeder yard -> east crossed", "gap J both rails"))
    both = {(("west", side, 0), ("east", side, 0)) for side in ("left", "right")}
    assert found == {"opposed passes": both}


def test_a_detector_is_blind_where_its_block_is_not_gapped() -> None:
    assert "districts joined" in errors(plan(TWO, "feeder shelf -> east"))
    assert not troubles(plan(TWO, "feeder shelf -> east", "gap J both rails"))


def test_a_bus_crossed_once_shorts_and_crossed_twice_does_not() -> None:
    crossed = TWO + "bus power -> P1 2 m crossed"
    assert "legs joined" in errors(plan(crossed, "feeder P1 -> east"))
    assert not troubles(plan(crossed, "feeder P1 -> east crossed"))


def test_two_reversers_must_not_meet_in_metal() -> None:
    two = TWO + "reverser other in power\ngap J both rails\nsegment far K -> stop 90 cm\n"
    two = two.replace("east J -> stop", "east J -> K") + "feeder turner -> east\nfeeder other -> far"
    assert errors(plan(two)).keys() == {"districts joined"}
    assert not troubles(plan(two, "gap K both rails"))


def test_two_districts_on_one_terminal_join_whatever_either_feeds() -> None:
    joined = TWO + "gap J both rails\nfeeder yard -> east\nbus power -> P1 2 m\n"
    assert not troubles(plan(joined))
    everything = {(name, side, 0) for name in ("west", "east") for side in ("left", "right")}
    assert errors(plan(joined, "bus yard -> P1 2 m")) == {"districts joined": everything}


@pytest.mark.parametrize("gap, guards", [("left rail", False), ("both rails", True)])
def test_a_gap_in_one_rail_guards_no_loop_even_where_the_other_rail_is_dead(gap: str, guards: bool) -> None:
    track = TWO.replace("power -> west", "power.red -> west.left") + "feeder turner.red -> east.left"
    left = left_over(Brute(model_of(plan(track, f"gap J {gap}"))))
    assert (left == []) == guards
