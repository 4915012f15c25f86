"""Findings in their order, and what is the same at many places told once."""

from __future__ import annotations

from railbond.faces.grouping import alike, same_at, worst_first
from railbond.findings import Finding
from railbond.inspection import inspect
from trackplan.gather import gather

OVAL = """\
plan     "Two live-frog turnouts as sold, in an oval"
booster  B1    15 V  5 A
district main  from B1  trips 4 A
segment  north  T1.points -> T2.points         3 m
segment  south  T1.through -> T2.through       1.2 m
segment  loop   T1.diverging -> T2.diverging   1.2 m
turnout  T1     left  number 6  live-frog
turnout  T2     right number 6  live-frog
feeder   main -> north  crossed
feeder   main -> south
feeder   main -> loop
"""


def found(text: str) -> tuple[list[Finding], list[list[Finding]]]:
    inspection = inspect(gather("plan", lambda _: text))
    findings = worst_first(inspection.findings)
    return findings, alike(findings, inspection.sources)


def test_errors_come_before_warnings_and_these_before_notes() -> None:
    levels = [one.level for one in found(OVAL.replace("crossed\n", "crossed\ntrain long 9 m\n"))[0]]
    assert levels == sorted(levels, key=["error", "warning", "note"].index)


def test_one_reason_at_four_frog_rails_is_told_once_with_every_place() -> None:
    findings, groups = found(OVAL)
    assert len(findings) == 4 and len(groups) == 1
    inspection = inspect(gather("plan", lambda _: OVAL))
    places = same_at(groups[0][1:], inspection.sources)
    assert [place.split()[0] for place in places] == ["plan:5:1:", "plan:6:1:", "plan:6:1:"]
    assert "T2" in places[0]


def test_other_reasons_and_other_rules_stand_alone() -> None:
    text = OVAL.replace("feeder   main -> loop\n", "").replace("feeder   main -> south\n", "")
    _, groups = found(text + "segment far stop -> stop 1 m\nsegment x stop -> stop 1 m\n")
    assert all(len({one.rule for one in group}) == 1 for group in groups)
    dead = [group for group in groups if group[0].rule == "unfed-rail"]
    assert [len(group) for group in dead] == [2]
