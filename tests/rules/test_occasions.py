"""Rules are asked by their heads: where an occasion does not arise the rule finds nothing, and is not even loaded."""

from __future__ import annotations

from pathlib import Path
from random import Random

import pytest

from oracle.plans import random_sound, random_wild, seed_faults
from railbond.circuit.facts import Facts
from railbond.doorway import enter
from railbond.rules import all_rules, askable
from railbond.rules.asking import ask
from railbond.rules.occasions import OCCASIONS, arises
from railbond.rules.rule import Rule, RuleHead
from trackwork.mixed import random_mixed
from trackwork.powered import random_powered

EXAMPLES = Path(__file__).parents[2] / "example_plans"
WRITTEN = sorted(path for path in EXAMPLES.rglob("*.trackplan"))
SEEDS = range(40)


def silent(facts: Facts) -> None:
    """No rule may find anything in these facts where its occasion does not arise."""
    for rule in all_rules():
        if rule.when and not arises(rule.when, facts):
            assert list(rule.find(facts)) == [], f"{rule.name} speaks where {rule.when!r} does not hold"


def test_every_rule_says_when_it_speaks_and_no_occasion_is_idle() -> None:
    assert {rule.when for rule in all_rules()} == OCCASIONS.keys()


def test_heads_stand_for_all_rules_in_their_order() -> None:
    assert [one.name for one in askable()] == [one.name for one in all_rules()]
    assert all(isinstance(one, RuleHead) and one.rule.name == one.name for one in askable())


@pytest.mark.parametrize("plan", WRITTEN, ids=lambda path: path.stem)
def test_silent_in_plans_as_people_write_them(plan: Path) -> None:
    silent(enter(str(plan), lambda path: Path(path).read_text(encoding="utf-8")).facts)


@pytest.mark.parametrize("rule", [rule for rule in all_rules() if rule.fails], ids=lambda rule: rule.name)
def test_the_occasion_arises_in_the_plan_that_fails(rule: Rule) -> None:
    for text in (rule.fails, rule.passes):
        silent(enter("plan", {"plan": text}.__getitem__).facts)
    facts = enter("plan", {"plan": rule.fails}.__getitem__).facts
    assert arises(rule.when, facts) and list(ask(rule, facts))


@pytest.mark.parametrize("seed", SEEDS)
def test_silent_in_random_plans(seed: int) -> None:
    rng = Random(seed)
    sound = random_sound(rng, rng.randrange(6))
    for text in (sound, seed_faults(sound, 2, rng)[0], random_wild(rng, 5), random_mixed(rng), random_powered(rng)):
        silent(enter("plan", {"plan": text}.__getitem__).facts)
