"""Edges that do not fit as they are coupled: told between the modules, and neither of them is to be rewired."""

from __future__ import annotations

import pytest

from railbond.doorway import Opened, enter
from railbond.findings import Finding
from trackplan.edit import apply

MODULE = """\
plan "{name}"
booster B1 15 V 5 A
district main from B1
endplate W left black
endplate E left red
segment a W -> E  1.2 m
feeder main -> a
"""
MEET = """\
plan "Row"
module mill "mill"
module farm "farm"
module town "town"
couple mill.E -> farm.W
couple farm.E -> town.W
gap mill.E both rails
gap farm.E both rails
"""
TURNED = {
    "the last one": (("couple farm.E -> town.W", "couple farm.E -> town.E"),),
    "the one in the middle": (
        ("couple mill.E -> farm.W", "couple mill.E -> farm.E"),
        ("couple farm.E -> town.W", "couple farm.W -> town.W"),
    ),
}


def opened(meet: str) -> Opened:
    texts = {"meet": meet, **{name: MODULE.format(name=name) for name in ("mill", "farm", "town")}}
    return enter("meet", lambda path: texts[path])


def made(meet: str, finding: Finding) -> str:
    return apply(opened(meet).sources["meet"], finding.fixes[0].edits)


def test_the_row_fits() -> None:
    assert opened(MEET).outcome.told == []


@pytest.mark.parametrize("name", TURNED)
def test_a_turned_module_is_told_at_its_coupling_to_both_owners(name: str) -> None:
    meet = MEET
    for right, wrong in TURNED[name]:
        meet = meet.replace(right, wrong)
    told = opened(meet).outcome.told
    errors = [one for one in told if one.finding.level == "error"]
    first = errors[0].finding
    assert first.at.path == "meet" and "do not fit as they are coupled" in first.message
    assert len({one.module for one in errors if one.finding == first}) == 2
    edits = [edit for fix in first.fixes for edit in fix.edits]
    assert {edit.at.path for edit in edits} == {"meet"}, "no module is told to rewire"
    assert "crossed plug" in " ".join(fix.words for fix in first.fixes)
    assert not [one for one in opened(made(meet, first)).outcome.findings if one.level == "error"]


def test_a_module_that_is_right_at_home_is_not_counted_as_faulty() -> None:
    from railbond.faces.summary import rows

    meet = MEET.replace("farm.E -> town.W", "farm.E -> town.E")
    states = {row.name: row.errors for row in rows([], [opened(meet).outcome])}
    assert states == {"the meet": 1, "mill": 0, "farm": 0, "town": 0}
