"""What the trade knows of turnouts, held against the oracle.

All of it is common practice and follows from how turnouts are built. The plans are one turnout, T1, left-hand
unless said, with a track at each end:

                    ________ spur       going in at the points the left rail carries red: red is on the
    west ______ T1 /________ main       diverging stock rail, black on the through one, and red on the left
                                        of every track beyond
"""

from __future__ import annotations

import pytest

from oracle.brute import Brute
from oracle.facts import errors, troubles
from oracle.plan_model import model_of
from oracle.turnouts import DC, DF, DS, TC, TF, TS, WANTS, F

POWER = "booster B1 15 V 5 A\ndistrict power from B1\n"
TRACKS = """segment west stop -> T1.points 90 cm
segment main T1.through -> stop 90 cm
segment spur T1.diverging -> stop 90 cm
feeder power -> west
feeder power -> main
feeder power -> spur
"""
FROG_GAPS = "gap T1.through frog rail\ngap T1.diverging frog rail\n"
RIGHT_WAY = "frog T1 switched through power.red diverging power.black\n"
BACKWARDS = "frog T1 switched through power.black diverging power.red\n"
BOND = "bond T1 closure rails to stock rails\n"

THROUGH, DIVERGING = {"T1": "through"}, {"T1": "diverging"}


def one_turnout(build: str, *more: str, hand: str = "left") -> str:
    return POWER + TRACKS + f"turnout T1 {hand} {build}\n" + "\n".join(more)


def walked(build: str, *more: str, hand: str = "left") -> Brute:
    return Brute(model_of(one_turnout(build, *more, hand=hand)))


def at_t1(*words: str) -> frozenset[tuple[str, str]]:
    return frozenset(("T1", word) for word in words)


# frogs


@pytest.mark.parametrize("uncut, shorted", [("through", [DIVERGING]), ("diverging", [THROUGH])])
def test_a_live_frog_shorts_where_one_gap_is_missing(uncut: str, shorted: list[dict[str, str]]) -> None:
    """Uncut on one side, the frog is tied to that side's rail: wrong while the points stand otherwise."""
    other = "diverging" if uncut == "through" else "through"
    brute = walked("live-frog", f"gap T1.{other} frog rail")
    assert [setting for setting in (THROUGH, DIVERGING) if brute.legs_joined(setting)] == shorted


def test_a_live_frog_without_any_gap_shorts_in_both_positions() -> None:
    brute = walked("live-frog")
    assert brute.legs_joined(THROUGH) and brute.legs_joined(DIVERGING)


def test_a_live_frog_with_both_gaps_does_not_short() -> None:
    brute = walked("live-frog", FROG_GAPS)
    assert not brute.ever_legs_joined and not brute.opposed_passes()


@pytest.mark.parametrize("hand", ["left", "right"])
def test_as_delivered_an_open_blade_opposes_the_stock_rail_beside_it(hand: str) -> None:
    brute = walked("live-frog", FROG_GAPS, hand=hand)
    assert brute.open_points == {(("T1", TC), ("T1", DS)), (("T1", DC), ("T1", TS))}


def test_bonded_closure_rails_with_the_jumpers_cut_cure_the_open_blade() -> None:
    brute = walked("live-frog", FROG_GAPS, BOND, "cut T1 closure jumpers", RIGHT_WAY)
    assert not brute.open_points and not brute.ever_legs_joined and not brute.opposed_passes()


def test_bonded_closure_rails_with_the_jumpers_in_place_short_through_the_frog() -> None:
    brute = walked("live-frog", FROG_GAPS, BOND)
    assert at_t1(TS, DS, F) <= brute.legs_joined(THROUGH) & brute.legs_joined(DIVERGING)


def test_as_delivered_the_frog_lives_by_the_touch_of_the_blades() -> None:
    """Power through the blades' touch is lost to a speck of dirt; a bond does not fear it."""
    assert walked("live-frog", FROG_GAPS).fed_through_points == at_t1(TC, DC, TF, DF)
    assert not walked("live-frog", FROG_GAPS, BOND, "cut T1 around frog", RIGHT_WAY).fed_through_points


def test_a_train_against_the_points_shorts_at_a_live_frog_rail() -> None:
    """The whole frog unit has the other route's polarity: the wheel at its gap is the short."""
    brute = walked("live-frog", FROG_GAPS)
    assert {rail for pair in brute.set_against for rail in pair if rail[0] == "T1"} == at_t1(TF, DF)


def test_cut_around_the_frog_and_bonded_a_live_frog_forgives_everything() -> None:
    assert not troubles(one_turnout("live-frog", "cut T1 around frog", BOND, RIGHT_WAY))


def test_without_its_jumpers_each_frog_rail_hangs_on_what_it_meets() -> None:
    """Gapped beyond, it is dead metal; and without a bond a closure rail has its blade alone."""
    cut = "cut T1 around frog without jumpers"
    assert not troubles(one_turnout("live-frog", cut, BOND, RIGHT_WAY))
    assert walked("live-frog", cut, BOND, RIGHT_WAY, FROG_GAPS).never_fed == at_t1(TF, DF)
    assert walked("live-frog", cut, RIGHT_WAY).fed_through_points == at_t1(TC, DC)


def test_a_dead_frog_takes_no_power_and_needs_no_gap() -> None:
    assert not walked("dead-frog").model.frogs
    assert not troubles(one_turnout("dead-frog"))


def test_an_isolated_frog_needs_no_gap_but_a_feed() -> None:
    assert walked("isolated-frog").unfed_frogs == at_t1(F)
    assert not troubles(one_turnout("isolated-frog", RIGHT_WAY))
    assert not troubles(one_turnout("isolated-frog", "frog T1 switched from stock rails"))
    assert not troubles(one_turnout("isolated-frog", "frog T1 automatic power"))


@pytest.mark.parametrize("hand", ["left", "right", "wye"])
def test_contacts_the_wrong_way_round_short_at_both_ends_of_the_frog(hand: str) -> None:
    """The through route's frog wants what the diverging stock rail carries: red if it is left-hand."""
    tracks = TRACKS if hand != "wye" else TRACKS.replace("through", "left").replace("diverging", "right")
    wrong, right = (BACKWARDS, RIGHT_WAY) if hand == "left" else (RIGHT_WAY, BACKWARDS)
    plan = f"{POWER}{tracks}turnout T1 {hand} isolated-frog\n"
    passes = Brute(model_of(plan + wrong)).opposed_passes()
    assert passes == {(("T1", one), ("T1", other)) for one, other in ((TC, F), (F, TF), (DC, F), (F, DF))}
    assert not troubles(plan + right)


def test_an_automatic_unit_follows_whatever_it_meets() -> None:
    assert not errors(one_turnout("live-frog", FROG_GAPS, "frog T1 automatic power"))


def test_a_frog_that_moves_with_other_points_is_wrong_while_they_stand_apart() -> None:
    other = "turnout T2 left dead-frog\n" + "".join(
        f"joint T2.{end} -> stop\n" for end in ("points", "through", "diverging")
    )
    brute = walked("isolated-frog", other, RIGHT_WAY.replace("switched", "switched with T2"))
    opposed = [walk.setting for walk in brute.walks if walk.opposed(("T1", F), ("T1", WANTS[walk.setting["T1"]]))]
    assert all(setting["T1"] != setting["T2"] for setting in opposed) and len(opposed) == 2
