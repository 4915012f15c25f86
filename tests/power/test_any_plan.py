"""Whatever a plan says, the rules about power and the table give an answer."""

from __future__ import annotations

from random import Random

from hypothesis import given, settings
from hypothesis import strategies as st

from oracle.plans import random_wild
from plan_texts import plans
from power.test_rules import POWER
from power.wired import wired
from railbond.circuit.facts import Facts
from railbond.faces.power_table import told
from railbond.inspection import examine
from railbond.rules import all_rules
from trackplan.read import read
from trackplan.span import Source

RULES = tuple(rule for rule in all_rules() if rule.name in POWER)


def answered(text: str) -> None:
    """Reads whatever reads, asks every rule about power, and writes the table."""
    source = Source("plan.trackplan", text)
    reading = read(source)
    facts = Facts(reading.statements, {source.path: source}, reading.broken)
    for finding in examine(facts, RULES):
        assert finding.message and finding.fixes
    assert told(facts) or not facts.layout.supplies


@settings(max_examples=100)
@given(plans())
def test_any_text(text: str) -> None:
    answered(text)


@settings(max_examples=50)
@given(st.randoms(use_true_random=False), st.integers(0, 5))
def test_wild_plans_with_lines_lost(rng: Random, turnouts: int) -> None:
    lines = wired(random_wild(rng, turnouts), rng).splitlines()
    for _ in range(rng.randint(0, 3)):
        del lines[rng.randrange(len(lines))]
    answered("\n".join(lines))
