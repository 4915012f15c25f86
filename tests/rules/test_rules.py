"""Every rule by its own examples: it fires once in the failing one, not in the passing one, not when it is off."""

from __future__ import annotations

import pytest

from railbond.circuit.facts import Facts
from railbond.findings import Finding
from railbond.inspection import examine
from railbond.rules import all_rules
from railbond.rules.rule import Rule
from trackplan.read import read
from trackplan.span import Source

RULES = pytest.mark.parametrize("rule", all_rules(), ids=lambda rule: rule.name)


def found(text: str, rules: tuple[Rule, ...]) -> list[Finding]:
    source = Source("plan.trackplan", text)
    reading = read(source)
    return examine(Facts(reading.statements, {source.path: source}, reading.broken), rules)


@RULES
def test_the_failing_plan_fails_once(rule: Rule) -> None:
    told = [one for one in found(rule.fails, all_rules()) if one.rule == rule.name]
    assert len(told) == 1
    assert told[0].level == rule.level and told[0].happens == rule.happens


@RULES
def test_nothing_else_as_bad_is_found_in_it(rule: Rule) -> None:
    """One cause, one finding: a reader of the example is not sent elsewhere."""
    others = {one.rule for one in found(rule.fails, all_rules()) if one.rule != rule.name and one.level == "error"}
    assert not others


@RULES
def test_the_passing_plan_passes(rule: Rule) -> None:
    bad = [one for one in found(rule.passes, all_rules()) if one.rule == rule.name or one.level == "error"]
    assert not bad


@RULES
def test_switched_off_it_finds_nothing(rule: Rule) -> None:
    rest = tuple(one for one in all_rules() if one is not rule)
    assert rule.name not in {one.rule for one in found(rule.fails, rest)}


@RULES
def test_it_teaches(rule: Rule) -> None:
    for text in (rule.summary, rule.railroad, rule.meter, rule.mend):
        assert len(text) > 20 and text[0].isupper() and text.endswith((".", '…".'))
    assert rule.fails != rule.passes


@RULES
def test_every_finding_tells_what_to_do(rule: Rule) -> None:
    told = [one for one in found(rule.fails, all_rules()) if one.rule == rule.name]
    assert all(one.fixes for one in told)


def test_every_file_of_rules_holds_one() -> None:
    """A rule is found by being in its folder; two rules never share a name."""
    names = [rule.name for rule in all_rules()]
    assert len(names) == len(set(names)) >= 19
