"""A caution follows wherever hands, meter or breaker are asked for: at every finding, in every face."""

from __future__ import annotations

from pathlib import Path

import pytest

from railbond.care import BEEP, CAUTIONS, RANGE, of_fix, of_lines, of_words
from railbond.circuit.facts import Facts
from railbond.command import main
from railbond.editor.diagnostics import message
from railbond.faces.live.electrics import told as live
from railbond.faces.page.gathering import item
from railbond.faces.sarif import log
from railbond.faces.teaching import lesson
from railbond.faces.text import TextStyle, cautions
from railbond.findings import Finding, Fix
from railbond.inspection import inspect
from railbond.rules import all_rules
from railbond.rules.rule import Rule
from trackplan.edit import add_line, replace
from trackplan.gather import gather
from trackplan.span import Source, Span

HANDS = [rule for rule in all_rules() if rule.turn and rule.fails and rule.name != "acceptance-unused"]

# What a club member's hands do for the usual mend, worked out by reading the mend and not by the program.
DONE = {
    "set-against": {"cuts", "solders"},
    "reversing-gap-one-rail": {"cuts"},
    "reversing-without-reverser": {"cuts", "rewires"},
    "districts-joined": {"cuts"},
    "reverser-short-of-train": {"cuts"},
    "voltage-drop": {"solders"},
    "endplate-crossed": {"solders"},
    "common-between-boosters": {"cuts", "rewires"},
    "bus-too-long": {"solders", "rewires"},
    "unfed-frog": {"solders"},
    "frog-rail-gap-missing": {"cuts"},
    "wire-too-thin": {"solders"},
    "breaker-over-booster": {"rewires"},
    "short-will-not-trip": {"solders", "breaker"},
}
ASKED = {
    **dict.fromkeys(
        ("districts-joined", "reverser-on-common", "reversing-gap-one-rail", "reversing-without-reverser", "not-proven",
         "feeders-too-far-apart", "analog-meets-digital", "frog-rail-gap-missing", "legs-joined"), "ohms",
    ),
    **dict.fromkeys(
        ("frog-wired-backwards", "opposed-at-gap", "set-against", "open-point-opposed", "endplate-crossed",
         "meet-reverses", "unfed-frog", "unfed-rail", "voltage-drop", "track-voltage-wrong"), "volts",
    ),
    "short-will-not-trip": "breaker",
}  # fmt: skip
VOLTMETER = (
    "frog-wired-backwards", "opposed-at-gap", "set-against", "open-point-opposed", "endplate-crossed", "meet-reverses",
    "unfed-frog", "unfed-rail",
)  # fmt: skip


def found(rule: Rule) -> tuple[Finding, dict[str, Source]]:
    inspection = inspect(gather("p", lambda path: rule.fails))
    return next(one for one in inspection.findings if one.rule == rule.name), dict(inspection.sources)


@pytest.mark.parametrize("rule", [rule for rule in HANDS if rule.name != "meet-reverses"], ids=lambda rule: rule.name)
def test_every_face_tells_every_caution(rule: Rule) -> None:
    finding, sources = found(rule)
    assert finding.cautions or not [fix for fix in finding.fixes if of_fix(fix, sources)]
    text = "\n".join(cautions([finding], TextStyle(width=10_000)))
    sarif = log([finding], sources, [rule])["runs"][0]
    (shown,) = live(Facts((), sources), [finding])
    for caution in finding.cautions:
        assert caution in text
        assert caution in sarif["results"][0]["message"]["text"]
        assert caution in message(finding)
        assert caution in item(1, finding, sources).cautions
        assert caution in shown["cautions"]
    for caution in rule.cautions:
        assert " ".join(caution.split()) in " ".join(lesson(rule).split())
        assert caution in sarif["tool"]["driver"]["rules"][0]["help"]["text"]


@pytest.mark.parametrize(("name", "dangers"), DONE.items())
def test_what_hands_do_has_its_caution(name: str, dangers: set[str]) -> None:
    (rule,) = (rule for rule in HANDS if rule.name == name)
    finding, _ = found(rule)
    for danger in dangers:
        assert CAUTIONS[danger] in finding.cautions, danger  # type: ignore[index]


@pytest.mark.parametrize(("name", "danger"), ASKED.items())
def test_what_a_test_asks_has_its_caution(name: str, danger: str) -> None:
    (rule,) = (rule for rule in HANDS if rule.name == name)
    assert CAUTIONS[danger] in rule.cautions  # type: ignore[index]
    assert (BEEP in rule.test) == (danger == "ohms")


@pytest.mark.parametrize("name", VOLTMETER)
def test_a_voltmeter_has_its_range(name: str) -> None:
    """Track power after NMRA S-9.1 is alternating: a meter on direct volts reads its mean, which is next to nothing."""
    (rule,) = (rule for rule in HANDS if rule.name == name)
    assert RANGE in rule.test and RANGE in " ".join(lesson(rule).split())


@pytest.mark.parametrize("rule", [rule for rule in all_rules() if not rule.turn], ids=lambda rule: rule.name)
def test_what_is_wrong_with_the_text_needs_no_caution(rule: Rule) -> None:
    assert not rule.cautions and not found(rule)[0].cautions


@pytest.mark.parametrize(
    ("line", "dangers"),
    [
        ("gap T1.through both rails", {"cuts"}),
        ("feeder main -> west", {"solders"}),
        ("bus main -> P1 3 m", {"solders", "rewires"}),
        ("reverser R1 in main", {"rewires"}),
        ('accept unfed-rail at west because "x"', set()),
        ("limit voltage-drop 5 %", set()),
    ],
)
def test_a_line_that_is_added_changed_or_taken_out_says_what_hands_do(line: str, dangers: set[str]) -> None:
    source = Source("p", f'{line}\n  # more\nplan "x"\n')
    at = Span("p", 0, len(line))
    for edit in (add_line(Span("p", 8, 8), line), replace(at, ""), replace(Span("p", 5, 6), "y")):
        assert of_fix(Fix("x", (edit,)), {"p": source}) == dangers


def test_the_words_of_a_mend_are_read() -> None:
    assert of_words("gap both rails at the boundary") == {"cuts"}
    assert of_words("take the module out of the meet") == set()


TRACK = "segment line stop -> stop 2 m\n"
SIZED = """booster  B1    15 V  5 A
district main  from B1  trips 4 A
segment  line  stop -> stop    2 m
feeder   main -> line  at 1 m  22 AWG  20 cm
engine   goat  left 0 30 mm  right 0 30 mm  0.4 A
"""


@pytest.mark.parametrize(
    ("command", "text", "dangers"),
    [
        ("wire", TRACK, ("solders", "rewires")),
        ("power", SIZED, ("rewires", "breaker")),
        ("schedule", SIZED, ("cuts", "solders", "rewires")),
    ],
)
def test_what_leads_hands_to_the_railroad_says_take_care(
    command: str, text: str, dangers: tuple[str, ...], tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    plan = tmp_path / "p.trackplan"
    plan.write_text(text)
    main([command, str(plan)])
    said = " ".join("".join(capsys.readouterr()).split())
    for danger in dangers:
        assert CAUTIONS[danger] in said, danger  # type: ignore[index]


def test_lines_that_are_written_say_what_hands_do() -> None:
    assert of_lines(["feeder main -> a", "", "gap a at 1 m  both rails"]) == {"solders", "cuts"}
    assert of_lines(["plan x", "limit feeder-spacing 2 m"]) == set()
