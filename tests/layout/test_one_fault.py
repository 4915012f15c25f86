"""A word that is wrong, or a line that was not understood, is told once: nothing that follows from it is told."""

from __future__ import annotations

import pytest

from layout.plans import POWER, SIDING, faults, layout
from railbond.layout.model import EndAt, Wire

PLAN = POWER + SIDING + "feeder P1 -> west\nfeeder P1 -> middle\nfeeder P1 -> siding\ngap T1.through frog rail\n"

LINES = PLAN.splitlines(keepends=True)


@pytest.mark.parametrize("number", range(len(LINES)), ids=[line.strip() for line in LINES])
def test_a_line_that_was_not_read_silences_its_names(number: int) -> None:
    """As the caller does it: the words of the line are handed over, and the plan is built without the line."""
    rest = "".join(LINES[:number] + LINES[number + 1 :])
    assert faults(rest, missing=tuple(LINES[number].split())) == []


def test_what_an_unread_supply_feeds_is_still_fed() -> None:
    rest = PLAN.replace("district main from B1\n", "")
    plan = layout(rest, missing=("district", "main", "from", "B1"))
    assert plan.runs[0].source in plan.supplies
    assert len(plan.drops) == 6


def test_an_unread_reverser_still_reverses() -> None:
    plan = layout(f"{PLAN}feeder turn -> west at 2 cm\n", missing=("reverser", "turn", "in", "main", "trips", "4"))
    assert plan.faults == [] and plan.supplies["turn"].kind == "reverser"


def test_a_misspelled_end_is_taken_for_the_near_one() -> None:
    plan = layout(PLAN.replace("-> T1.points", "-> T1.piont"))
    assert [fault.rule for fault in plan.faults] == ["unknown-name"]
    assert (EndAt("west", "finish"), EndAt("T1", "points")) in [(one.one, one.other) for one in plan.meetings]


def test_a_misspelled_supply_is_taken_for_the_near_one() -> None:
    plan = layout(PLAN.replace("bus main", "bus mian"))
    assert len(plan.faults) == 1 and plan.runs[0].source == "main"


def test_a_forgotten_terminal_is_told_once_and_taken_for_the_district() -> None:
    plan = layout(PLAN.replace("feeder P1", "feeder P2"))
    assert [fault.rule for fault in plan.faults] == ["unknown-name"]
    assert {drop.wire for drop in plan.drops} == {Wire("main", 0), Wire("main", 1)}


def test_a_forgotten_turnout_is_told_once() -> None:
    (fault,) = faults(PLAN.replace("turnout T1 left live-frog\n", ""))
    assert fault.message == "no segment or turnout is called `T1`"


def test_a_turnout_named_twice_is_told_once() -> None:
    assert len(faults(f"{PLAN}turnout T1 right dead-frog\n")) == 1


def test_a_segment_named_twice_keeps_its_joints_quiet() -> None:
    """The second `west` would have met T2, which is not told as loose."""
    more = "turnout T2 left dead-frog\njoint T2.through -> stop\njoint T2.diverging -> stop\n"
    assert [fault.rule for fault in faults(f"{PLAN}{more}segment west stop -> T2.points 1 m\n")] == ["name-used-twice"]


def test_a_feeder_at_fault_still_feeds() -> None:
    """Its rail is not told as dead besides."""
    plan = layout(PLAN.replace("feeder P1 -> west", "feeder P1 -> west at 3 m"))
    assert [drop.place for drop in plan.drops if drop.piece == "west"] == [0.9, 0.9]


@pytest.mark.parametrize("name, known", [("T11", "T1"), ("P3", "P1"), ("B2", "B1")])
def test_a_number_is_never_a_misspelling(name: str, known: str) -> None:
    (fault,) = faults(f'{PLAN}accept stalls at {name} because "x"\n')
    assert "did you mean" not in fault.message and known in PLAN


def test_two_likely_names_are_no_suggestion() -> None:
    text = 'segment yard-a stop -> stop 1 m\nsegment yard-b stop -> stop 1 m\naccept stalls at yard-c because "x"\n'
    (fault,) = faults(text)
    assert "did you mean" not in fault.message
