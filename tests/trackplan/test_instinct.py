"""What people type before they have read anything is understood, or answered with the line to write."""

from __future__ import annotations

import pytest

from trackplan.mistakes.filled import filled_in
from trackplan.read import read
from trackplan.span import Source

# As typed, and as it must be offered to be written.
TYPED = [
    ("turnout T1 left #5 live-frog", "turnout T1 left number 5 live-frog"),
    ("turnout T1 left # 5 live-frog", "turnout T1 left number 5 live-frog"),
    ("turnout T1 left No. 5 live-frog", "turnout T1 left number 5 live-frog"),
    ("turnout T1 left no 5 live-frog", "turnout T1 left number 5 live-frog"),
    ("turnout T1 left nr.5 live-frog", "turnout T1 left number 5 live-frog"),
    ("turnout T1 left 5 live-frog", "turnout T1 left number 5 live-frog"),
    ('segment west W -> T1.points 36"', "segment west W -> T1.points 36 in"),
    ("segment west W -> T1.points 3'6\"", "segment west W -> T1.points 3 ft 6 in"),
    ("segment west W -> T1.points 3.5'", "segment west W -> T1.points 3.5 ft"),
    ("bus main -> P1 3 m 12ga", "bus main -> P1 3 m 12 AWG"),
    ("bus main -> P1 10' 12ga", "bus main -> P1 10 ft 12 AWG"),
    ("segment siding T1 diverging -> T2 diverging 2.4 m", "segment siding T1.diverging -> T2.diverging 2.4 m"),
    ("feeder P1 red -> west left", "feeder P1.red -> west.left"),
    ("turnout T1, left, number 5, live-frog", "turnout T1  left  number 5  live-frog"),
    ("booster B1, 15 V, 5 A", "booster B1  15 V  5 A"),
    ("Turnout T1 Left Number 5 Live-Frog", "turnout T1 left number 5 live-frog"),
    ("SEGMENT west W -> T1.points 90 CM", "segment west W -> T1.points 90 cm"),
    ("feeder main west", "feeder main -> west"),
    ("frog T1 through P1.red diverging P1.black", "frog T1 switched through P1.red diverging P1.black"),
    ("booster B1 15v 5a", "booster B1 15 V 5 A"),
    ("segment west stop to T1.points 90cm", "segment west stop -> T1.points 90cm"),
    ("turnout T1 lh #6 live-frog", "turnout T1 left number 6 live-frog"),
    ("turnout T1 left-hand number 6 live frog", "turnout T1 left number 6 live-frog"),
    ("gap T1.diverging both", "gap T1.diverging both rails"),
    ("bond T1", "bond T1 closure rails to stock rails"),
    ("wire main -> west", "feeder main -> west"),
    ("switch T1 left number 6 live-frog", "turnout T1 left number 6 live-frog"),
]


@pytest.mark.parametrize(("typed", "meant"), TYPED)
def test_the_line_that_was_meant_is_offered(typed: str, meant: str) -> None:
    (broken,) = read(Source("p", typed)).broken
    assert broken.meant is not None
    offered = typed[: broken.at.start] + broken.meant + typed[broken.at.end :]
    assert offered == meant
    assert not read(Source("p", meant)).broken


@pytest.mark.parametrize(
    "typed",
    [
        'plan "a, b; c"', "turnout T1 left number 5 live-frog # No. 5, by the door",
        "segment T1 left -> right 3 ft 6 in", "booster main 15V 5A", "booster B1 15 V 5 A #2 of two",
    ],
)  # fmt: skip
def test_what_reads_is_left_alone(typed: str) -> None:
    assert not read(Source("p", typed)).broken


def test_a_comment_on_a_broken_line_stays_one() -> None:
    """Only a number right after the mark is taken for what everybody types."""
    (broken,) = read(Source("p", "turnout T1 left  # by the door")).broken
    assert broken.meant is None and "ends too soon" in broken.message


@pytest.mark.parametrize(
    ("typed", "form"),
    [
        ("turnout T9 right", "turnout T9 right isolated-frog"),
        ("turnout T9", "turnout T9 left isolated-frog"),
        ("segment west T1.points 90 cm", "segment west T1.points -> stop 90 cm"),
        ("district main trips 4 A", "district main from B1 trips 4 A"),
        ("bus main 3 m", "bus main -> P1 3 m"),
        ("frog T1 switched through P1.red", "frog T1 switched through P1.red diverging red"),
        ("engine goat 0.4 A", "engine goat left 90 cm right 90 cm 0.4 A"),
        ("gap T1.diverging", "gap T1.diverging both rails"),
        ("turnout T1 left dead or alive", "turnout T1 left isolated-frog dead 90 cm"),
    ],
)
def test_a_form_is_offered_with_the_words_that_fit(typed: str, form: str) -> None:
    assert filled_in(typed) == form
    assert not read(Source("p", form)).broken


@pytest.mark.parametrize("typed", ["frobnicate T1", "-> west", "90 cm", '"x"'])
def test_what_begins_no_statement_has_no_form(typed: str) -> None:
    assert filled_in(typed) is None
