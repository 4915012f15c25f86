"""On random plans that mix every kind, the proof says what walking all settings says, and what a solver says."""

from __future__ import annotations

from random import Random

import pytest
from hypothesis import example, given
from hypothesis import settings as tried

from railbond.circuit.facts import Facts
from railbond.circuit.questions import opposed
from railbond.rules.fed_through_points import touch_fed_rails
from railbond.rules.unfed_rail import unfed_rails

from .mixed import mixed_plans, random_mixed
from .settings import can_short, conflict, potentials, settings
from .walking import facts_of

FEW = 20

SPRUNG = """\
booster B1 15 V 5 A
district main from B1
turnout P4 right dead-frog sprung diverging
bond P4 closure rails to stock rails
crossing P6 20 degrees isolated-frog
frog P6.1 switched from stock rails
frog P6.2 switched with P4 through main.red diverging main.black
joint P6.b2 -> P6.b1
gap P6.b2 both rails
joint P6.a2 -> P6.a1
gap P6.a2 both rails
joint P4.diverging -> P4.through
gap P4.diverging both rails
joint P4.points -> stop
"""
TOGGLED = """\
booster B1 15 V 5 A
district main from B1
turnout P4 left dead-frog
bond P4 closure rails to stock rails
scissors P6 isolated-frog
frog P6-x.1 switched with P4 through main.red diverging main.black
frog P6-x.2 switched through main.red diverging main.black
joint P6.b2 -> P6.b1
gap P6.b2 both rails
joint P6.a2 -> P4.diverging
gap P6.a2 both rails
segment s1 P6.a1 -> P4.through 1 m
feeder main -> s1
joint P4.points -> stop
"""


@given(mixed_plans())
@example(SPRUNG)
@example(TOGGLED)
@tried(max_examples=FEW)
def test_every_setting_walked(text: str) -> None:
    facts = facts_of(text)
    graph = facts.graph
    walked = [(setting, potentials(graph, setting)) for setting in settings(graph)]
    untouched = [potentials(graph, setting, touches=False) for setting in settings(graph)]
    assert not facts.proof.unproven
    assert bool(facts.shorts) == any(conflict(one, one) for _, found in walked for one in found.values())
    fed = {rail for rail in graph.rails if any(found[rail] for _, found in walked)}
    firm = {rail for rail in graph.rails if any(found[rail] for found in untouched)}
    lone = set(facts.frog_units)
    assert set(unfed_rails(facts)) == set(graph.rails) - fed - lone
    assert set(touch_fed_rails(facts)) == fed - firm - lone
    if not facts.shorts and not facts.minglings:
        check_wheels(facts, walked)


def check_wheels(facts: Facts, walked: list) -> None:  # type: ignore[type-arg]
    """Where no metal joins two legs or two supplies, every pass and every open blade by itself."""
    told = {(roll.one, roll.other) for roll, _ in facts.opposed}
    for roll in facts.graph.rolls:
        ever = any(
            conflict(found[roll.one], found[roll.other])
            for setting, found in walked
            if all(dict(setting)[switch] in good for switch, good in roll.needs)
        )
        assert ((roll.one, roll.other) in told) == ever, facts.graph.names[roll.one]
    for blade in facts.graph.blades:
        ever = any(conflict(found[blade.closure], found[blade.stock]) for s, found in walked if blade.when in s)
        switch, stands = blade.when
        setting = opposed(facts.proof, blade.closure, blade.stock, ((switch, (stands,)),))
        assert (setting is not None) == ever, facts.graph.names[blade.closure]


def test_a_train_on_a_crossing_needs_the_points_and_the_toggle_of_its_frogs() -> None:
    graph = facts_of(TOGGLED).graph
    assert graph.positions["P6-x"] == ("a", "b")
    needs = [dict(roll.needs) for roll in graph.rolls]
    assert any("P4" in one and one.get("P6-x") == ("a",) for one in needs)


@pytest.mark.parametrize("seed", range(8))
def test_a_solver_finds_a_short_just_where_the_proof_does(seed: int) -> None:
    facts = facts_of(random_mixed(Random(seed), most=64))
    assert can_short(facts.graph) == bool(facts.shorts)


def test_the_plans_hold_every_kind_and_both_answers() -> None:
    """A generator that never shorts, or always, would prove nothing."""
    plans = [random_mixed(Random(seed)) for seed in range(60)]
    words = {line.split()[0] for plan in plans for line in plan.splitlines()}
    assert {"turnout", "stub", "three-way", "crossing", "slip", "scissors", "construction", "turntable"} <= words
    found = [facts_of(plan) for plan in plans[:30]]
    assert {bool(facts.shorts) for facts in found} == {True, False}
    apart = [facts for facts in found if not facts.shorts and not facts.minglings]
    assert {bool(facts.opposed) for facts in apart} == {True, False}
