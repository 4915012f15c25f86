"""`accept RULE everywhere`: for warnings and notes, and never for an error. A plan without a wire is told of once."""

from __future__ import annotations

from railbond.findings import Finding
from railbond.inspection import inspect
from trackplan.gather import gather

PLAN = """\
booster  B1    15 V  5 A
district main  from B1  trips 4 A
segment  lead  stop -> T1.points        90 cm
turnout  T1    left  number 6  isolated-frog
segment  line  T1.through -> T2.points  90 cm
segment  dock  T1.diverging -> stop     90 cm
turnout  T2    left  number 6  isolated-frog
segment  far   T2.through -> stop       90 cm
segment  end   T2.diverging -> stop     90 cm
feeder   main -> lead
feeder   main -> line
feeder   main -> dock
feeder   main -> far
feeder   main -> end
"""
BARE = "".join(line for line in PLAN.splitlines(keepends=True) if not line.startswith("feeder"))


def told(text: str) -> list[Finding]:
    return inspect(gather("plan", lambda _: text)).findings


def rules(text: str) -> list[str]:
    return [one.rule for one in told(text)]


def test_all_warnings_of_a_rule_are_accepted_with_one_line() -> None:
    assert rules(PLAN) == ["unfed-frog", "unfed-frog"]
    assert rules(PLAN + 'accept unfed-frog everywhere because "long engines"\n') == []


def test_without_a_reason_nothing_is_accepted() -> None:
    assert rules(PLAN + "accept unfed-frog everywhere\n").count("unfed-frog") == 2


def test_an_error_is_accepted_at_a_name_only() -> None:
    dead = PLAN.replace("segment  far ", "segment  gone stop -> stop 1 m\nsegment  far ")
    found = told(dead + 'accept unfed-rail everywhere because "later"\n')
    assert "unfed-rail" in [one.rule for one in found]
    assert any("is an error: accept it at a name" in one.message for one in found)


def test_a_line_that_accepts_nothing_anywhere_is_told() -> None:
    (found,) = [one for one in told(PLAN + 'accept stalls everywhere because "slow"\n') if "accept" in one.rule]
    assert found.message == "nothing is left to accept: stalls is not found everywhere."


def test_a_name_may_be_everywhere_and_a_thing_may_bear_it() -> None:
    text = PLAN.replace("T1", "everywhere")
    assert rules(text + 'accept unfed-frog at everywhere because "long"\n') == ["unfed-frog"]


def test_a_plan_without_a_single_wire_is_told_so_once() -> None:
    turning = BARE.replace("T2.diverging -> stop ", "T2.diverging -> J ").replace(
        "T2.through -> stop ", "T2.through -> J "
    )
    for text in (BARE, turning):
        (found,) = told(text)
        assert found.rule == "unfed-rail" and "nothing is wired yet" in found.message
