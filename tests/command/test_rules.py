"""`railbond rules`."""

from __future__ import annotations

import pytest

from railbond import command
from railbond.faces.teaching import GENERAL_CAUTIONS
from railbond.rules import all_rules
from railbond.trackwork import forms, lessons
from trackplan.read import read
from trackplan.span import Source

RULES = {rule.name: rule for rule in all_rules()}


def said(capsys: pytest.CaptureFixture[str], *arguments: str) -> tuple[int, str, str]:
    try:
        status = command.main(["rules", *arguments])
    except SystemExit as stop:
        status = int(stop.code or 0)
    return status, *capsys.readouterr()


def flat(text: str) -> str:
    return " ".join(text.split())


def test_the_table_names_every_rule_with_its_level_in_80_columns(capsys: pytest.CaptureFixture[str]) -> None:
    status, output, _ = said(capsys)
    assert status == 0
    rows = [line.split()[:2] for line in output.splitlines() if not line.startswith(" ")]
    assert rows == [[rule.name, rule.level] for rule in RULES.values()]
    assert max(map(len, output.splitlines())) <= 80


@pytest.mark.parametrize("name", RULES)
def test_a_lesson_holds_all_that_a_rule_teaches(capsys: pytest.CaptureFixture[str], name: str) -> None:
    status, output, _ = said(capsys, name)
    rule = RULES[name]
    assert status == 0
    for part in (rule.summary, rule.railroad, rule.meter, rule.mend, rule.caution, rule.fails, rule.passes):
        assert flat(part) in flat(output)
    plan_lines = {f"    {line}" for line in (rule.fails + "\n" + rule.passes).splitlines()}
    assert all(len(line) <= 80 or line in plan_lines for line in output.splitlines())


def test_the_cautions(capsys: pytest.CaptureFixture[str]) -> None:
    output = flat(said(capsys, "cautions")[1])
    assert all(flat(caution) in output for caution in GENERAL_CAUTIONS)
    assert all(flat(rule.caution) in output for rule in RULES.values() if rule.caution)


@pytest.mark.parametrize("word", ["electrician", "local", "unplug", "burn", "fumes", "breaker"])
def test_the_cautions_speak_of_each_danger(word: str) -> None:
    assert any(word in caution.lower() for caution in GENERAL_CAUTIONS)


@pytest.mark.parametrize("name", lessons())
def test_every_kind_of_trackwork_has_its_lesson(capsys: pytest.CaptureFixture[str], name: str) -> None:
    status, output, _ = said(capsys, name)
    assert status == 0
    assert output.startswith(name)
    drawn = [part for part in lessons()[name].split("\n\n") if part.startswith("    ")]
    assert drawn and all(part.strip("\n") in output for part in drawn)
    assert all(len(line) <= 80 or line.startswith(" ") for line in output.splitlines())


@pytest.mark.parametrize("name", forms())
def test_every_form_is_written_rail_by_rail(capsys: pytest.CaptureFixture[str], name: str) -> None:
    """What is printed reads as a plan."""
    status, output, _ = said(capsys, "--construction", name)
    assert status == 0
    reading = read(Source("printed", output))
    assert [type(one).__name__ for one in reading.statements] == ["Construction"] and not reading.broken


def test_a_form_that_is_not_there_is_told_the_near_ones(capsys: pytest.CaptureFixture[str]) -> None:
    status, output, errors = said(capsys, "--construction", "life-frog")
    assert (status, output) == (2, "")
    assert "did you mean live-frog" in errors and "double-slip-isolated-frog" in errors


def test_a_rule_that_is_not_there_is_told_the_near_ones(capsys: pytest.CaptureFixture[str]) -> None:
    status, output, errors = said(capsys, "legs-joint")
    assert (status, output) == (2, "")
    assert "did you mean legs-joined" in errors
