"""Mends of what only the whole has, tried on the meet in memory before they are offered."""

from __future__ import annotations

from collections.abc import Container

from railbond.findings import LEVELS, Finding, Fix
from railbond.inspection import examined
from railbond.rules import all_rules
from railbond.rules.rule import Rule
from trackplan.span import Span

from .meet_facts import MeetFacts

BUDGET = 20_000
"""Lines that trials may read for one meet."""

JUDGED_ALONE = ("acceptance-unused", "acceptance-without-reason", "endplate-crossed", "syntax")
"""Rules about a module by itself, which the whole says nothing new of."""

Key = tuple[str, Span]


def rules_of_the_whole() -> list[Rule]:
    return [rule for rule in all_rules() if rule.name not in JUDGED_ALONE]


def proven(whole: MeetFacts, findings: list[Finding]) -> list[Finding]:
    """The findings with those fixes that cure them and bring nothing as bad, and those for which no trial was left."""
    trials = BUDGET // max(len(whole.statements), 1)
    known = {(one.rule, one.at) for one in findings}
    told = []
    for finding in findings:
        fixes: list[Fix] = []
        for fix in finding.fixes:
            if trials <= 0:
                fixes.append(fix)
            else:
                trials -= 1
                fixes += [fix._replace(proven="alone")] if _cures(whole, finding, fix, known) else []
        told.append(finding._replace(fixes=tuple(fixes)))
    return told


def _cures(whole: MeetFacts, finding: Finding, fix: Fix, known: Container[Key]) -> bool:
    try:
        tried = whole.revised(fix.edits)
    except ValueError:
        return False
    bad = LEVELS[LEVELS.index(finding.level) :]
    left = {(one.rule, one.at) for one in examined(tried, rules_of_the_whole()) if one.level in bad}
    return (finding.rule, finding.at) not in left and all(key in known for key in left)
