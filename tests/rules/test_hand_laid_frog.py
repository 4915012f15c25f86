"""A hand-laid turnout with a solid live frog: its two frog rails want gaps, and the wires beyond are right."""

from __future__ import annotations

from mend.holding import Plans
from railbond.mend.overlay import Overlay
from railbond.mend.rounds import mend

GAPS = "gap west.start  right rail\ngap shed.finish right rail\n"
PLAN = f"""\
plan      "A turnout laid rail by rail at the end of an oval"
booster   B1    15 V  5 A
district  main  from B1  trips 4 A  legs red black
construction H
    positions through diverging
    rail through-stock through-closure through-heel diverging-stock diverging-closure diverging-heel
    frog point when through wants diverging-stock leg through when diverging wants through-stock leg diverging
    joined point through-heel
    joined point diverging-heel
    joined through-closure diverging-stock
    joined diverging-closure through-stock
    blade through-closure beside diverging-stock touches through open diverging
    blade diverging-closure beside through-stock touches diverging open through
    pass diverging-stock through-closure point through-heel when through
    pass through-stock diverging-closure point diverging-heel when diverging
    opening points left diverging-stock right through-stock enters
    opening through left through-stock right through-heel leaves when through
    opening diverging left diverging-heel right diverging-stock leaves when diverging
    end
segment   west  H.through -> H.points  4 m
segment   shed  stop -> H.diverging    60 cm
{GAPS}feeder    main -> west  at 2 m
feeder    main -> shed  at 30 cm  crossed
frog      H     switched from stock rails
"""
DROPS = [line for line in PLAN.splitlines() if line.startswith("feeder")]


def mended(text: str) -> str:
    plan = Plans(text)
    overlay = Overlay(["plan.trackplan"], plan.open_text)
    mend(overlay)
    return overlay.open_text("plan.trackplan")


def wrong(text: str) -> list[str]:
    return [one.rule for one in Plans(text).inspected().findings if one.level == "error"]


def test_the_plan_is_sound() -> None:
    assert wrong(PLAN) == []


def test_a_forgotten_gap_is_cut_and_no_drop_is_moved_or_taken_off() -> None:
    for gap in GAPS.splitlines(keepends=True):
        after = mended(PLAN.replace(gap, ""))
        assert wrong(after) == []
        assert [line for line in after.splitlines() if line.startswith("feeder")] == DROPS


def test_both_gaps_forgotten_are_told_at_the_frog_rails() -> None:
    assert set(wrong(PLAN.replace(GAPS, ""))) == {"frog-rail-gap-missing"}
    after = mended(PLAN.replace(GAPS, ""))
    assert wrong(after) == []
    assert [line for line in after.splitlines() if line.startswith("feeder")] == DROPS
