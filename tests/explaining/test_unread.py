"""What only follows from a line that cannot be read is not told; what is so whatever that line says, is."""

from __future__ import annotations

from collections.abc import Iterator

import pytest

from railbond.circuit.facts import Facts
from railbond.findings import Finding, Found
from railbond.inspection import inspect
from railbond.rules import all_rules
from railbond.rules.rule import Rule
from trackplan.gather import gather

PIER = """\
plan     "Two boosters, a pit and a house track"
booster  B1     15 V  5 A
booster  B2     15 V  5 A
district upper  from B1  trips 4 A
district lower  from B2  trips 4 A
bus      upper -> U1  2 m  14 AWG
bus      U1 -> U2     3 m  14 AWG
bus      lower -> L1  2 m  14 AWG
segment  depot  stop -> T1.points      1.2 m
turnout  T1     right  number 6  dead-frog
segment  house  T1.diverging -> stop   80 cm
segment  grade  T1.through -> J        2 m
segment  pit    J -> TT.in             1 m
turntable       TT  30 cm
approach-track  TT.in  at 0 degrees
approach-track  TT.s1  at 180 degrees
segment  stall  TT.s1 -> stop          30 cm
gap      J      both rails
bond     T1     closure rails to stock rails
feeder   U1 -> depot      22 AWG  20 cm
feeder   U1 -> house      22 AWG  20 cm
feeder   U2 -> grade      22 AWG  20 cm
feeder   L1 -> pit        22 AWG  20 cm
feeder   L1 -> stall      22 AWG  20 cm
feeder   L1 -> TT.bridge  22 AWG  20 cm  split at 90 degrees
"""

ONE_LINE = {
    "a size that is no size": ("bus      U1 -> U2     3 m  14 AWG", "bus      U1 -> U2     3 m  41 AWG"),
    "its length without a unit": ("bus      U1 -> U2     3 m  14 AWG", "bus      U1 -> U2     3  14 AWG"),
    "its parts in another order": ("22 AWG  20 cm  split at 90 degrees", "split at 90 degrees  22 AWG  20 cm"),
    "a number with a comma": ("feeder   L1 -> stall      22 AWG  20 cm", "feeder   L1 -> stall      22 AWG  2,,0 cm"),
    "a word too many": ("feeder   L1 -> pit        22 AWG", "feeder   L1 -> pit        brown 22 AWG"),
    "two faults": ("feeder   U2 -> grade      22 AWG  20 cm", "feeder   U2 -> grade      20cm of 22AWG wire"),
}


def found(text: str) -> list[Finding]:
    return [one for one in inspect(gather("plan", lambda _: text)).findings if one.level != "note"]


def test_the_plan_itself_is_sound() -> None:
    assert found(PIER) == []


@pytest.mark.parametrize(("right", "wrong"), ONE_LINE.values(), ids=ONE_LINE)
def test_one_line_is_told_once(right: str, wrong: str) -> None:
    assert right in PIER
    assert [one.rule for one in found(PIER.replace(right, wrong))] == ["syntax"]


def test_what_is_so_whatever_the_line_says_is_told_with_its_mend() -> None:
    """A crossed drop elsewhere, beside a bus run of no size: both are told, the drop as if all could be read."""
    crossing = PIER.replace("house      22 AWG  20 cm", "house      22 AWG  20 cm  crossed")
    syntax, crossed = found(crossing.replace("U1 -> U2     3 m  14 AWG", "U1 -> U2     3 m  41 AWG"))
    assert (syntax.rule, crossed.rule) == ("syntax", "legs-joined")
    assert crossed.fixes[0].words == "swap the two wires of the feeder to house"


def test_what_comes_to_light_once_the_line_reads_is_told_with_its_mend() -> None:
    """The line that has its parts in another order also has its wires crossed."""
    wrong = PIER.replace("TT.bridge  22 AWG  20 cm  split", "TT.bridge  crossed  22 AWG  20 cm  split")
    (syntax,) = found(wrong)
    assert syntax.rule == "syntax"
    assert any("opposed-at-gap" in one for one in syntax.fixes[0].then)


def test_a_line_of_which_nothing_can_be_made_leaves_what_is_missing_to_be_told() -> None:
    wrong = PIER.replace("feeder   L1 -> stall      22 AWG  20 cm", "feeder   !!")
    assert [one.rule for one in found(wrong)] == ["unfed-rail", "syntax"]


def test_no_mend_changes_what_stands_in() -> None:
    """A short through a line that cannot be read as it stands: its mends change other lines, or add some."""
    wrong = PIER.replace("feeder   U2 -> grade      22 AWG  20 cm", "feeder   L1 -> grade      22 AWG  20 cm  brown")
    line = wrong[: wrong.index("L1 -> grade")].count("\n")
    for finding in found(wrong):
        source = gather("plan", lambda _: wrong).sources["plan"]
        own = [source.line_of(edit.at.start) for fix in finding.fixes for edit in fix.edits if not edit.line]
        assert finding.rule == "syntax" or line not in own


def test_where_a_rule_cannot_look_at_what_stands_in_the_plan_is_told_as_it_is_written() -> None:
    def find(facts: Facts) -> Iterator[Found]:
        if not facts.broken:
            raise ValueError("this line is not in the text")
        yield from ()

    rule = Rule("club-rule", "note", "on paper", 3, False, find, "", "", "", "", "", "")
    text = PIER.replace(*ONE_LINE["a size that is no size"])
    found = inspect(gather("plan.trackplan", lambda _: text), [*all_rules(), rule]).findings
    assert "club-rule" not in {one.rule for one in found}
    assert {one.rule for one in found} > {"syntax"}


def test_the_other_leg_of_a_wire_that_names_none() -> None:
    text = """\
booster   B1     15 V  5 A
district  yard   from B1  trips 4 A
bus       yard -> P2  6 m  14 AWG
segment   middle stop -> edge1  1.8 m
endplate  edge1  left black
feeder    P2     -> middle.left   22 AWG 20 cm
feeder    P2.red -> middle.right  22 AWG 20 cm
"""
    found = inspect(gather("plan.trackplan", lambda _: text)).findings
    assert not [one.message for one in found if "broke off" in one.message]
