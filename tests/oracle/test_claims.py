"""What a finding may claim of a plan, held against a plan of six lines that anybody can follow by hand: so, or not."""

from __future__ import annotations

import pytest

from oracle.claims import ASKED, Claim, Truth

PLAN = """\
booster  B1  15 V  5 A
district main  from B1
district east  from B1
reverser R1    in main
reverser R2    in main
bus      main -> P1  1 m  14 AWG
segment  lead  stop -> T1.points    90 cm
turnout  T1    left  number 6  dead-frog
segment  loop  T1.through -> T1.diverging  3 m
segment  spur  stop -> stop         1 m
segment  west  stop -> stop         1 m
gap      T1.through  both rails
feeder   P1 -> lead
feeder   R1 -> loop
feeder   east.red -> west.left
feeder   east.red -> west.right
"""
"""The loop is gapped at one end only, so that its reverser meets the main through the blade that touches."""

STOCK, CLOSURE, FROG_RAIL = "T1's through stock rail", "T1's diverging closure rail", "T1's diverging frog rail"
NAMES = {
    "lead's left rail": ("lead", "left", 0), "loop's right rail": ("loop", "right", 0),
    "loop's left rail": ("loop", "left", 0), "spur's left rail": ("spur", "left", 0),
    "west's left rail": ("west", "left", 0), "west's right rail": ("west", "right", 0),
    "lead's right rail": ("lead", "right", 0), STOCK: ("T1", "through stock rail"),
    CLOSURE: ("T1", "diverging closure rail"), FROG_RAIL: ("T1", "diverging frog rail"),
    "T1's through closure rail": ("T1", "through closure rail"), "T1's through frog rail": ("T1", "through frog rail"),
}  # fmt: skip
THROWN, STRAIGHT = (("T1", "diverging"),), (("T1", "through"),)

SO: list[Claim] = [
    ("carries", ("lead's left rail",), ("main.red",), ()),
    ("feeds", ("loop's left rail",), ("R1",), ()),
    ("joined", (), ("main.red", "R1.black"), THROWN),
    ("tied", ("P1.red", "lead's left rail"), (), ()),
    ("tied", (STOCK, CLOSURE), (), THROWN),
    ("dead", ("spur's left rail",), (), ()),
    ("touch", ("T1's through closure rail",), (), ()),
    ("no volts", ("west's left rail", "west's right rail"), (), ()),
    ("opposed", ("lead's left rail", "lead's right rail"), (), STRAIGHT),
    ("rolls", ("T1's through closure rail", "T1's through frog rail"), (), STRAIGHT),
    ("against", ("T1's through closure rail", "T1's through frog rail"), (), THROWN),
    ("open", (CLOSURE, STOCK), (), STRAIGHT),
    ("turns", ("loop", "T1"), (), ()),
    ("idle", ("R2",), (), ()),
    ("unused", ("R2",), (), ()),
]
NOT_SO: list[Claim] = [
    ("carries", ("lead's left rail",), ("main.black",), STRAIGHT),
    ("feeds", ("spur's left rail",), ("R1",), ()),
    ("joined", (), ("main.red", "R1.red"), STRAIGHT),
    ("joined", (), ("main.black", "R1.red"), ()),
    ("tied", ("P1.red", "loop's left rail"), (), ()),
    ("tied", (STOCK, CLOSURE), (), ()),
    ("dead", ("lead's left rail",), (), ()),
    ("touch", ("lead's left rail",), (), ()),
    ("touch", ("spur's left rail",), (), ()),
    ("no volts", ("lead's left rail", "lead's right rail"), (), ()),
    ("opposed", ("west's left rail", "lead's left rail"), (), ()),
    ("rolls", ("T1's through closure rail", "T1's through frog rail"), (), THROWN),
    ("against", ("T1's through closure rail", "T1's through frog rail"), (), STRAIGHT),
    ("open", (CLOSURE, STOCK), (), THROWN),
    ("turns", ("lead", "T1"), (), ()),
    ("unused", ("main",), (), ()),
    ("unused", ("B1",), (), ()),
    ("carries", ("lead's left rail",), ("main.red",), (("T1", "through"), ("T1", "diverging"))),
]


@pytest.fixture(scope="module")
def truth() -> Truth:
    return Truth(PLAN, NAMES)


@pytest.mark.parametrize("claim", SO, ids=str)
def test_what_is_so(truth: Truth, claim: Claim) -> None:
    assert truth.holds(claim)


@pytest.mark.parametrize("claim", NOT_SO, ids=str)
def test_what_is_not(truth: Truth, claim: Claim) -> None:
    assert not truth.holds(claim)


def test_each_kind_is_tried_both_ways() -> None:
    assert {one[0] for one in SO} == set(ASKED) == {one[0] for one in NOT_SO} | {"idle"}


def test_a_reverser_that_a_loop_needs_is_not_idle() -> None:
    sound = PLAN.replace("gap      T1.through  both rails", "gap T1.through both rails\ngap T1.diverging both rails")
    truth = Truth(sound, NAMES)
    assert truth.holds(("idle", ("R2",), (), ())) and not truth.holds(("idle", ("R1",), (), ()))
