"""Findings as text."""

from __future__ import annotations

import io
import re

import pytest

from faces.samples import NAMELESS, PLAN, SHORT, source, span
from railbond.faces.text import TextStyle, closing, look_for, told
from railbond.findings import Finding, Step
from trackplan.edit import replace
from trackplan.span import Span

IN_FULL = """\
quarry.trackplan:4:1: error: short: red and black of P1 meet through the frog of
    T1 (rule frog-rail-gap-missing)
    when T1 through
    why  P1 puts red on the left rail of siding (quarry.trackplan:6)
         siding meets T1, and neither rail is cut there (quarry.trackplan:4)
         the frog rail is one piece with the frog (quarry.trackplan:2)
         a wheel needs no help for this
    do   cut the frog rail of T1 beyond the frog on the diverging side
         after quarry.trackplan:4 add
             gap T1.diverging frog rail
    or   buy a turnout whose frog is dead (T1 is another one then)
         at quarry.trackplan:2 in place of
             turnout  T1      left  number 6  live-frog
         write
             turnout  T1      left  number 6  dead-frog"""

GNU = re.compile(r"(?P<file>[^:]+):(?P<line>\d+):(?P<column>\d+): (?P<level>error|warning|note): (?P<message>.+)")


class Terminal(io.StringIO):
    def isatty(self) -> bool:
        return True


def test_a_finding_in_full() -> None:
    assert told(SHORT, source(), TextStyle()) == IN_FULL


@pytest.mark.parametrize("finding", [SHORT, NAMELESS])
def test_the_first_line_is_a_gnu_error_line(finding: Finding) -> None:
    """GNU Coding Standards, error messages: `file:line:column: message`, first line and column 1."""
    match = GNU.fullmatch(told(finding, source(), TextStyle(fold=False)).splitlines()[0])
    assert match
    assert (match["file"], match["level"]) == ("quarry.trackplan", finding.level)
    line = PLAN.splitlines()[int(match["line"]) - 1]
    assert line[int(match["column"]) - 1 :].startswith(PLAN[finding.at.start : finding.at.end].splitlines()[0])
    assert finding.message in match["message"]
    assert finding.rule in match["message"]


def test_nothing_is_wider_than_the_terminal_but_lines_of_a_plan() -> None:
    for width in (50, 60, 80):
        lines = told(SHORT, source(), TextStyle(width)).splitlines()
        assert all(len(line) <= width or line.startswith(" " * 13) for line in lines)


def test_color_only_adds_to_the_words() -> None:
    colored = told(SHORT, source(), TextStyle(color=True))
    assert "\x1b[" in colored
    assert re.sub(r"\x1b\[[\d;]*m", "", colored) == told(SHORT, source(), TextStyle())


@pytest.mark.parametrize("environment", [{"NO_COLOR": "1"}, {"TERM": "dumb"}])
def test_color_is_left_out_where_it_is_not_wanted(environment: dict[str, str]) -> None:
    assert look_for(Terminal(), {}).color
    assert not look_for(Terminal(), environment).color


def test_a_pipe_gets_whole_first_lines_and_no_color() -> None:
    assert look_for(io.StringIO(), {}) == TextStyle(80, fold=False, color=False)


def test_steps_of_one_line_are_told_together_and_repeats_counted() -> None:
    at = span("segment  west")
    steps = (Step(at, "on"), Step(at, "on"), Step(at, "off"), Step(span("feeder   P1 -> west"), "on"))
    text = told(NAMELESS._replace(why=steps), source(), TextStyle())
    assert "why  on (2 times); off (quarry.trackplan:1)\n         on (quarry.trackplan:5)" in text


def test_a_step_in_another_file_names_it() -> None:
    both = source() | source("booster B1 15 V 5 A\n", "club.trackplan")
    steps = (Step(Span("club.trackplan", 0, 7), "B1 gives 5 A"),)
    assert "B1 gives 5 A (club.trackplan:1)" in told(NAMELESS._replace(why=steps), both, TextStyle())


def test_what_a_plan_holds_cannot_steer_the_terminal() -> None:
    text = PLAN.replace("west ", "w\x1b[2J\u202e")
    fix = SHORT.fixes[0]._replace(edits=(replace(span("90 cm", text=text), "1 m"),))
    finding = SHORT._replace(message="no \x1b[31m", fixes=(fix,), at=span("segment", text=text), why=())
    shown = told(finding, source(text), TextStyle())
    assert "\x1b" not in shown and "\u202e" not in shown
    assert "w\\x1b[2J\\u202e" in shown


def test_the_closing_line_counts_each_level() -> None:
    def said(*levels: str, plans: int = 1) -> str:
        findings = [SHORT._replace(level=level, rule=f"some-{level}") for level in levels]
        return closing(findings, plans, TextStyle(100))

    more = "`railbond rules some-error` tells more about the first error."
    assert said("error", "error", "warning", plans=2) == f"2 errors and 1 warning in 2 plans. {more}"
    assert said("warning", "note", "error").startswith("1 error, 1 warning and 1 note in 1 plan. ")
    assert said("note", "error").endswith(more)
    assert said("note").splitlines() == [
        "No errors and no warnings in 1 plan: proven for every setting of the turnouts.",
        "1 note. `railbond rules some-note` tells more about the first note.",
    ]
    assert said(plans=3) == "No faults found in 3 plans: proven for every setting of the turnouts."
