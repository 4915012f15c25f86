"""Plans that the tests of running share, and what the tool says about them."""

from __future__ import annotations

from railbond.circuit.facts import Facts
from railbond.circuit.running.answers import Running, running
from railbond.findings import Finding
from railbond.inspection import examine
from railbond.rules import all_rules
from trackplan.edit import apply
from trackplan.read import read
from trackplan.span import Source

POWER = """\
scale    HO
booster  B1    15 V  5 A
district main  from B1  trips 4 A
"""


def facts_of(text: str) -> Facts:
    """The facts of a plan that reads and whose names all fit."""
    source = Source("plan.trackplan", text)
    reading = read(source)
    assert not reading.broken, reading.broken
    facts = Facts(reading.statements, {source.path: source})
    assert not facts.layout.faults, facts.layout.faults
    return facts


def running_of(text: str) -> Running:
    return running(facts_of(text))


def told(text: str, rule: str) -> list[Finding]:
    """What one rule finds in a plan."""
    return [one for one in examine(facts_of(text), all_rules()) if one.rule == rule]


def mended(text: str, finding: Finding, fix: int = 0) -> str:
    """The plan with one of a finding's fixes made."""
    return apply(Source("plan.trackplan", text), finding.fixes[fix].edits)


def one_turnout(turnout: str, *more: str) -> str:
    """A turnout `T1 left …` between three segments that have power, and more lines."""
    lines = (
        "segment lead stop -> T1.points 90 cm", f"turnout T1 left {turnout}",
        "segment line T1.through -> stop 90 cm", "segment dock T1.diverging -> stop 90 cm",
        "feeder main -> lead", "feeder main -> line", "feeder main -> dock", *more,
    )  # fmt: skip
    return POWER + "\n".join(lines) + "\n"
