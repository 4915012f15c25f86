"""Contacts of other points at track that has none: judged as the track leads, by hand and by every setting."""

from __future__ import annotations

from itertools import product

import pytest

from .walking import found_in

POWER = "booster B1 15 V 5 A\ndistrict main from B1\n"
BACKWARDS = ["frog-wired-backwards"]
# A terminal's throat: looking from the country, b lies left of a. The left rail of both carries red.
THROAT = (
    POWER
    + """\
segment up stop -> S.a1 1 m
segment down stop -> S.b1 1 m
scissors S number 6 isolated-frog
segment plat1 S.a2 -> stop 1 m
segment plat2 S.b2 -> stop 1 m
frog S-a1 switched from stock rails
frog S-a2 switched from stock rails
frog S-b1 switched from stock rails
frog S-b2 switched from stock rails
feeder main -> up
feeder main -> down
feeder main -> plat1
feeder main -> plat2
"""
)
# T's routes lead to the crossing's tracks, over plain track and a plastic crossing on the way to `first`.
JUNCTION = (
    POWER
    + """\
turnout T left isolated-frog
frog T switched from stock rails
crossing X 30 degrees isolated-frog
crossing Y 60 degrees dead-frog
segment lead stop -> T.points 1 m
joint {first} -> Y.a1
segment ta Y.a2 -> X.a1 1 m
segment tb {second} -> X.b1 1 m
segment ua X.a2 -> stop 1 m
segment ub X.b2 -> stop 1 m
segment ya stop -> Y.b1 1 m
segment yb Y.b2 -> stop 1 m
feeder main -> lead
feeder main -> ta
feeder main -> tb
feeder main -> ua
feeder main -> ub
feeder main -> ya
feeder main -> yb
"""
)


def told(text: str) -> list[str]:
    return [one.rule for one in found_in(text)]


@pytest.mark.parametrize(("mover", "leg"), list(product(("S-a1", "S-b2", "S-b1", "S-a2"), ("red", "black"))))
def test_the_crossing_of_a_scissors(mover: str, leg: str) -> None:
    """Track a of the crossing is run with S-a1 or S-b2 diverging, and frog 1 then wants a's left rail, red. Track b is
    run with S-b1 or S-a2 diverging, and wants b's right rail, black."""
    other = {"red": "black", "black": "red"}[leg]
    line = f"frog S-x switched with {mover} through main.{other} diverging main.{leg}\n"
    right = leg == ("red" if mover in ("S-a1", "S-b2") else "black")
    assert told(THROAT + line) == ([] if right else BACKWARDS)


@pytest.mark.parametrize(("first", "leg"), list(product(("T.through", "T.diverging"), ("red", "black"))))
def test_the_track_tells_which_route_is_run(first: str, leg: str) -> None:
    second = {"T.through": "T.diverging", "T.diverging": "T.through"}[first]
    text, other = JUNCTION.format(first=first, second=second), {"red": "black", "black": "red"}[leg]
    line = f"frog X switched with T through main.{leg} diverging main.{other}\n"
    right = (leg == "red") == (first == "T.through")
    assert told(text + line) == ([] if right else BACKWARDS)


def test_points_that_lead_to_one_track_only_leave_the_other_for_the_rest() -> None:
    text = JUNCTION.format(first="T.diverging", second="T.through")
    text = text.replace("segment tb T.through -> X.b1 1 m", "segment tb stop -> X.b1 1 m\njoint T.through -> stop")
    line = "frog X switched with T through main.{} diverging main.{}\n"
    assert told(text + line.format("black", "red")) == []
    assert told(text + line.format("red", "black")) == BACKWARDS


def test_without_track_between_the_order_of_the_positions_counts() -> None:
    text = JUNCTION.format(first="stop", second="stop").replace("joint stop -> Y.a1", "joint Y.a1 -> stop")
    text += "joint T.through -> stop\njoint T.diverging -> stop\n"
    line = "frog X switched with T through main.{} diverging main.{}\n"
    assert told(text + line.format("red", "black")) == []
    assert told(text + line.format("black", "red")) == BACKWARDS


def test_each_frog_with_the_points_at_its_own_track() -> None:
    frogs = "frog S-x.1 switched with S-a1 through main.black diverging main.red\n"
    assert told(THROAT + frogs + "frog S-x.2 switched with S-a1 through main.black diverging main.red\n") == []
    assert told(THROAT + frogs + "frog S-x.2 switched with S-a1 through main.red diverging main.black\n") == BACKWARDS
