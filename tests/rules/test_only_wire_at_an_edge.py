"""An edge that carries the other leg: the one pair of wires to its track is swapped, and no terminal of others is."""

from __future__ import annotations

from railbond.doorway import enter
from railbond.findings import Fix

CURVE = """\
plan "Curve"
endplate W left black
endplate E left red
bus plug -> P1
segment bend E -> W 1.2 m
feeder P1 -> bend crossed
"""
TURN = """\
plan "Turn"
endplate E-1 left red
endplate E-2 left red
reverser AR in plug-f
segment f E-2 -> A 60 cm
segment turn A -> B 3 m
segment b B -> E-1 60 cm
gap A both rails
gap B both rails
feeder plug-f -> f crossed
feeder AR -> turn
feeder plug-b -> b
"""


def fixes(text: str) -> tuple[Fix, ...]:
    (found,) = (one for one in enter("m", lambda _: text).proven.findings if one.rule == "endplate-crossed")
    return found.fixes


def test_both_are_sound() -> None:
    for text in (CURVE, TURN):
        assert [one.message for one in enter("m", lambda _, text=text: text).inspection.findings] == []  # type: ignore[misc]


def test_the_only_pair_is_swapped_before_the_run_to_a_terminal() -> None:
    words = [fix.words for fix in fixes(CURVE.replace(" crossed", ""))]
    assert words[:2] == ["swap the two wires to bend", "swap the two wires to P1"]


def test_of_two_pairs_the_run_before_both_is_swapped() -> None:
    two = CURVE.replace("feeder P1 -> bend crossed", "feeder P1 -> bend at 30 cm\nfeeder P1 -> bend at 90 cm")
    assert fixes(two)[0].words == "swap the two wires to P1"


def test_a_run_that_is_crossed_by_the_plan_s_own_word_comes_first() -> None:
    plain = CURVE.replace("E -> W", "W -> E").replace(" crossed", "").replace("-> P1", "-> P1 crossed")
    assert fixes(plain)[0].words == "swap the two wires to P1"


def test_a_pair_beyond_a_section_s_gaps_is_left_alone() -> None:
    assert fixes(TURN.replace(" crossed", ""))[0].words == "swap the two wires to f"
