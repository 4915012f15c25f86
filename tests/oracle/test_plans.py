"""The plans that the tests are fed with: sound ones are sound, wild ones are wild, and faults are faults."""

from __future__ import annotations

from random import Random

import pytest
from hypothesis import given

from oracle.facts import errors, troubles
from oracle.faults import KINDS, REVERSER, seed_faults
from oracle.plans import big_layout, big_yard, random_sound, random_wild, sound_plans, wild_plans
from railbond.doorway import enter
from railbond.layout.build import build
from railbond.trackwork import template_for
from trackplan.read import read
from trackplan.span import Source


def resolves(plan: str) -> bool:
    """Whether the plan says nothing that the layout cannot make sense of."""
    reading = read(Source("plan.trackplan", plan))
    return not reading.broken and not build(reading.statements, template_for).faults


@given(sound_plans())
def test_sound_plans_are_sound(plan: str) -> None:
    assert resolves(plan)
    assert not troubles(plan)


def test_quiet_plans_have_no_warning() -> None:
    """Of any rule: what is seeded into them is then all that is to be mended."""
    for seed in range(90):
        plan = random_sound(Random(seed), seed % 9)
        told = enter("plan", {"plan": plan}.__getitem__).proven.findings
        assert not [one for one in told if one.level != "note"], f"seed {seed}"


@given(sound_plans(quiet=False))
def test_live_frogs_as_they_come_are_no_error(plan: str) -> None:
    assert resolves(plan)
    assert not errors(plan)


@given(wild_plans())
def test_wild_plans_are_well_formed(plan: str) -> None:
    assert resolves(plan)


def test_wild_plans_have_every_kind_of_trouble_and_none() -> None:
    plans = [random_wild(Random(seed), 4) for seed in range(40)]
    seen = [troubles(plan) for plan in plans]
    assert len(set().union(*seen)) == 9
    assert {} in seen


@pytest.mark.parametrize("kind", [*KINDS, REVERSER])
def test_each_kind_of_fault_does_harm(kind: str) -> None:
    """Not every time (a second feeder may save the day), but in some of the plans that have room for it."""
    harmed = []
    for seed in range(60):
        rng = Random(seed)
        plan = random_sound(rng, 4)
        broken, made = seed_faults(plan, 1, rng)
        if [fault.kind for fault in made] == [kind]:
            assert broken != plan and resolves(broken)
            harmed.append(troubles(broken))
    assert any(harmed)


def test_a_fault_tells_its_line() -> None:
    plan = "segment  west  stop -> stop  90 cm\nfeeder  main -> west"
    broken, (fault,) = seed_faults(plan, 1, Random(1))
    assert fault.line == 2 and fault.before == "feeder  main -> west"
    assert broken.split("\n")[1:] == ([] if fault.after is None else [fault.after])


@pytest.mark.parametrize("plan", [big_yard(8), big_layout(8, seed=3)])
def test_the_big_ones_are_sound_when_small(plan: str) -> None:
    assert resolves(plan)
    assert not troubles(plan)


@pytest.mark.parametrize("big", [big_yard, big_layout])
def test_big_plans_have_as_many_turnouts_as_asked(big: object) -> None:
    assert callable(big)
    assert big(200).count("\nturnout ") == 200
