"""A common rail that its plan takes for granted, as old block wiring is drawn: every cut is in one rail."""

from __future__ import annotations

import pytest

from railbond.findings import Finding
from railbond.inspection import inspect
from trackplan.edit import apply
from trackplan.gather import gather
from trackplan.span import Source

COMMON = "common  black of valley hill\n"
CUT = "gap     C  left rail\n"
PLAN = f"""\
plan    "Two throttles, four blocks, one rail for the way back"
cab     valley  12 V  1 A  legs red black
cab     hill    12 V  1 A  legs red black
{COMMON}block   one    in valley or hill
block   two    in valley or hill
block   three  in valley or hill
block   four   in valley or hill
segment a  stop -> A  1 m
segment b  A -> B     1 m
segment c  B -> C     1 m
segment d  C -> stop  1 m
gap     A  left rail
gap     B  left rail
{CUT}feeder  one -> a
feeder  two -> b
feeder  three -> c
feeder  four -> d
"""
BOTH = PLAN.replace(COMMON, "").replace(CUT, "")


def bad(text: str) -> list[Finding]:
    return [one for one in inspect(gather("plan", lambda _: text)).findings if one.level != "note"]


def first_mend(text: str) -> str:
    return apply(Source("plan", text), bad(text)[0].fixes[0].edits)


def test_the_plan_is_sound() -> None:
    assert bad(PLAN) == []


def test_the_common_alone() -> None:
    mended = first_mend(PLAN.replace(COMMON, ""))
    assert "common black of valley hill" in mended and bad(mended) == []


def test_the_common_and_a_cut_of_the_other_rail_are_told_as_one() -> None:
    (found,) = bad(BOTH)
    assert "Two slips explain this" in found.message
    mended = first_mend(BOTH)
    assert "common black of valley hill" in mended and "gap C  left rail" in mended and bad(mended) == []


@pytest.mark.parametrize("cuts", ["gap B  right rail\n", "gap B  both rails\n"])
def test_cuts_in_both_rails_mean_no_common_rail(cuts: str) -> None:
    """Who cuts both rails somewhere has not one rail for the way back: then nothing is granted."""
    text = BOTH.replace("gap     B  left rail\n", cuts)
    assert "Two slips explain this" not in " ".join(one.message for one in bad(text))
