"""The yardstick of the benchmark: what it calls alike, and that mends come up to it."""

from __future__ import annotations

import pytest

from benchmark.mending import outcome
from mend.likeness import electrically_alike, lines_apart, said

PLAN = """\
booster  B1  15 V  5 A
district main  from B1
reverser R1    in main
bus      main -> P1  1 m  14 AWG
segment  lead  stop -> T1.points            90 cm
turnout  T1    left  number 6  dead-frog
segment  loop  T1.through -> T1.diverging   4 m
bond     T1    closure rails to stock rails
gap      T1.through    both rails
gap      T1.diverging  both rails
feeder   P1 -> lead
feeder   R1 -> loop
"""


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ("feeder   R1 -> loop", "feeder   R1 -> loop  crossed"),
        ("feeder   P1 -> lead", "feeder   main -> lead"),
        ("feeder   P1 -> lead", "feeder   P1 -> lead  crossed"),
        ("R1", "R9"),
        ("gap      T1.through    both rails", "gap      loop.start  both rails"),
    ],
)
def test_alike(old: str, new: str) -> None:
    """A reverser turns, a wire is a wire, a loop apart has no way round of its own, and names are names."""
    assert electrically_alike(PLAN, PLAN.replace(old, new))


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ("feeder   P1 -> lead\n", ""),
        ("feeder   R1 -> loop", "feeder   main -> loop"),
        ("gap      T1.through    both rails\n", ""),
        ("gap      T1.through    both rails\n", "gap      T1.through  frog rail\n"),
        ("bond     T1    closure rails to stock rails\n", ""),
    ],
)
def test_not_alike(old: str, new: str) -> None:
    assert not electrically_alike(PLAN, PLAN.replace(old, new))


def test_one_stretch_cannot_be_turned_by_half() -> None:
    """West and east meet: a swap of one alone is another railroad, and so is a swap behind a gap."""
    two = "segment  west  stop -> J  1 m\nsegment  east  J -> stop  1 m\ngap J both rails\n"
    plan = "booster  B1  15 V  5 A\ndistrict main  from B1\n" + two + "feeder main -> west\nfeeder main -> east\n"
    assert not electrically_alike(plan, plan.replace("-> east", "-> east  crossed"))
    assert electrically_alike(plan, plan.replace("-> west", "-> west  crossed").replace("-> east", "-> east  crossed"))


def test_rails_are_known_by_where_they_lie() -> None:
    """Who writes a segment from its other end, and swaps its wires, has built the same; who only does one has not."""
    two = "segment  west  stop -> J  1 m\nsegment  east  J -> stop  1 m\ngap J both rails\n"
    plan = (
        "booster  B1  15 V  5 A\ndistrict main  from B1\n" + two + "feeder main -> west at 20 cm\nfeeder main -> east\n"
    )
    turned = plan.replace("stop -> J ", "J -> stop ")
    assert not electrically_alike(plan, turned)
    assert electrically_alike(plan, turned.replace("west at 20 cm", "west at 80 cm  crossed"))


def test_lines_apart() -> None:
    assert lines_apart(PLAN, PLAN) == 0
    assert lines_apart(PLAN, PLAN.replace("90 cm", "80 cm")) == 1
    assert lines_apart(PLAN, PLAN.replace("feeder   P1 -> lead\n", "")) == 1
    assert said(PLAN) == said("\n".join(reversed(PLAN.splitlines())) + "\n")


def test_mended_plans_come_up_to_it() -> None:
    """A sample; the benchmark asks for more of more plans."""
    ends = [end for kinds, _, end in map(outcome, range(60)) if kinds]
    good = sum(end in ("the same", "alike") for end in ends)
    assert good >= 0.95 * len(ends), ends
