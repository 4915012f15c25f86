"""The proof against every setting walked one by one, on random plans of up to eight turnouts.

The oracle's own answers are held against z3 and networkx in `tests/oracle`.
"""

from __future__ import annotations

import os

from hypothesis import given, settings

from oracle.plans import faulty_plans, sound_plans, wild_plans
from oracle.rails import conflict, mixed
from oracle.reversing import reverses

from .agreement import Answers, brute_of, unordered

MANY = settings.default.max_examples * (7 if "CI" in os.environ else 1)
"""Two thousand plans in all where a change is judged; a thorough run of the profile asks for many more."""


def check(text: str) -> None:
    """Shorts and mingled supplies always; the finer questions where neither hides them.

    The tool also follows the supply's own wires, so one joined pair can join another: hence "at least". Supplies that
    only a short joins part with it: the short is what is told.
    """
    tool, brute = Answers(text), brute_of(text)
    legs, supplies = bool(brute.ever_legs_joined), bool(brute.ever_districts_joined)
    without_short = any(walk.having(mixed) - walk.having(conflict) for walk in brute.walks)
    assert tool.is_joined == (legs or supplies)
    assert bool(tool.facts.shorts) >= legs and bool(tool.facts.minglings) >= without_short
    if not (legs and supplies):
        assert bool(tool.facts.shorts) == legs or supplies
        assert bool(tool.facts.minglings) == supplies or legs
    assert tool.never_fed() == brute.never_fed
    assert tool.fed_through_points() == brute.fed_through_points
    assert tool.unfed_frogs() == brute.unfed_frogs
    assert not tool.facts.proof.unproven
    if not tool.is_joined:
        assert tool.without_volts() == {pair for pair in unordered(brute.without_volts) if tool.at_a_joint(pair)}
        assert tool.opposed() == unordered(brute.opposed_passes())
        assert tool.set_against() == unordered(brute.set_against)
        assert tool.open_points() == unordered(brute.open_points)
    if not (tool.facts.minglings or supplies):
        assert tool.reverses() == reverses(brute)


@settings(max_examples=MANY)
@given(wild_plans())
def test_wild_plans(text: str) -> None:
    check(text)


@settings(max_examples=MANY)
@given(faulty_plans())
def test_sound_plans_with_seeded_faults(plan: tuple[str, str, object]) -> None:
    check(plan[1])


@settings(max_examples=MANY)
@given(sound_plans(quiet=False))
def test_sound_plans(text: str) -> None:
    check(text)


STAGGERED = """\
booster  B1    15 V  5 A
district main  from B1  trips 4 A
reverser R1    in main
segment  lead  stop -> T1.points            90 cm
turnout  T1    left  number 6  dead-frog
segment  loop  T1.through -> T1.diverging   4 m
bond     T1    closure rails to stock rails
gap      T1.through  both rails
gap      loop at 3.9 m  left rail
gap      loop at 3.92 m  {rail} rail
feeder   main -> lead
feeder   R1 -> loop at 2 m
"""


def test_gaps_of_one_end_may_lie_a_little_apart() -> None:
    """The design asks for both rails at one joint; two cuts a hand's breadth apart part the section just as well."""
    assert not Answers(STAGGERED.format(rail="right")).reverses()
    assert Answers(STAGGERED.format(rail="left")).reverses()


ONE_RAIL_TWICE = """\
booster  B1    15 V  5 A
district main  from B1  trips 4 A
reverser R1    in main
bus      main -> P1  1 m  14 AWG
bus      R1 -> P2    1 m  14 AWG
segment  stub  T1.diverging -> stop   60 cm
segment  far   T1.through -> stop     90 cm
segment  lead  T1.points -> T2.points 90 cm
turnout  T1    left  number 4  dead-frog
turnout  T2    left  number 4  live-frog
segment  out   T2.through -> J1       2 m
segment  back  J1 -> T2.diverging     2 m
gap      T2.through    right rail
gap      T2.diverging  right rail
feeder   P1 -> far
feeder   P1.black -> lead.right
feeder   P1.black -> out.left
feeder   P2.red -> out.right
"""


APART_AT_A_TURNOUT = """\
booster  B1    15 V  5 A
district main  from B1  trips 4 A
reverser R1    in main
segment  west  T1.points -> stop           30 cm
segment  loop  T1.diverging -> T2.through  60 cm
segment  spur  T2.diverging -> stop        60 cm
turnout  T1    left  number 4  live-frog
turnout  T2    left  number 4  isolated-frog
joint    T1.through -> T2.points
gap      T1.through    frog rail
gap      T2.through    left rail
gap      T1.diverging  left rail
gap      loop at 30 cm  right rail
gap      spur at 30 cm  both rails
feeder   main.red -> T2.diverging.stock
feeder   R1 -> west crossed
feeder   main -> loop at 45 cm crossed
"""


def test_the_two_gaps_of_an_end_may_have_a_turnout_between() -> None:
    check(APART_AT_A_TURNOUT)
    assert not Answers(APART_AT_A_TURNOUT).reverses()
    assert Answers(APART_AT_A_TURNOUT.replace("gap      loop at 30 cm  right rail\n", "")).reverses()


def test_two_gaps_of_one_rail_part_no_section() -> None:
    """A loop whose one rail is cut at both ends, and whose other rail, the frog's, at neither."""
    check(ONE_RAIL_TWICE)
    assert Answers(ONE_RAIL_TWICE).reverses()
