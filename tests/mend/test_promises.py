"""Every fix that is offered holds: on the examples of all rules, on the example plans, and on random plans."""

from __future__ import annotations

import os
from pathlib import Path
from random import Random

import pytest
from hypothesis import Phase, given, settings

from mend.holding import Plans, faults_of_fixes
from oracle.plans import faulty_plans, random_sound, random_wild, seed_faults, wild_plans
from railbond.rules import all_rules
from railbond.rules.rule import Rule

PLANS = Path(__file__).parents[2] / "example_plans"
ONLY_THE_OWNER_KNOWS = {"wires-unknown"}
"""What wire lies on the railroad: no edit of the plan can guess that."""

RULES = pytest.mark.parametrize("rule", all_rules(), ids=lambda rule: rule.name)

THOROUGH = os.environ.get("HYPOTHESIS_PROFILE") == "thorough"
FEW = settings(
    max_examples=settings().max_examples // 8 if THOROUGH else 5,
    derandomize=not THOROUGH,
    phases=[Phase.explicit, Phase.generate],
)
"""Each plan takes a second or two: few, and the same in every run, unless thousands are asked for; and none is made
smaller, which takes minutes."""

SAMPLE = pytest.mark.parametrize("seed", range(8))
"""Random plans that are the same each time, tried in every run."""


@pytest.mark.parametrize(
    "rule", [one for one in all_rules() if one.name not in ONLY_THE_OWNER_KNOWS], ids=lambda rule: rule.name
)
def test_every_finding_of_a_rules_example_has_a_proven_fix(rule: Rule) -> None:
    told = [one for one in Plans(rule.fails).proven().findings if one.rule == rule.name]
    assert told
    for finding in told:
        assert any(fix.edits and fix.proven for fix in finding.fixes), finding.message


@RULES
def test_the_fixes_of_a_rules_example_hold(rule: Rule) -> None:
    assert faults_of_fixes(rule.fails) == []


@pytest.mark.parametrize("plan", sorted(PLANS.rglob("*.trackplan")), ids=lambda plan: plan.stem)
def test_the_fixes_of_the_example_plans_hold(plan: Path) -> None:
    assert faults_of_fixes(plan.read_text(encoding="utf-8"), plan.parent) == []


@SAMPLE
def test_the_fixes_of_a_sample_of_random_plans_hold(seed: int) -> None:
    rng = Random(seed)
    broken, _ = seed_faults(random_sound(rng, rng.randint(1, 5)), rng.randint(1, 3), rng)
    assert faults_of_fixes(broken) == []
    assert faults_of_fixes(random_wild(rng, 3)) == []


@FEW
@given(faulty_plans(max_turnouts=5 if THOROUGH else 1))
def test_the_fixes_of_plans_with_a_few_faults_hold(plans: tuple[str, str, object]) -> None:
    assert faults_of_fixes(plans[1]) == []


@FEW
@given(wild_plans(max_turnouts=4 if THOROUGH else 2))
def test_the_fixes_of_wild_plans_hold(plan: str) -> None:
    assert faults_of_fixes(plan) == []
