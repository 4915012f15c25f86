"""The quick bound is one: no place that is solved has more, and sound plans need no solving."""

from __future__ import annotations

from random import Random

import pytest
from hypothesis import given, settings

from power.wired import facts_of, power_of, random_wired, wired_plans
from railbond.circuit.facts import Facts
from railbond.circuit.power.bound import bounds
from railbond.steady import SteadyFile
from trackplan.read import read
from trackplan.span import Source


@settings(max_examples=100)
@given(wired_plans())
def test_no_place_exceeds_the_bound(text: str) -> None:
    power = power_of(text)
    bound = bounds(power.wiring, power.proof, power.materials)
    for spot in power.spots if bound is not None else ():
        assert spot.ohms <= bound[spot.supply] * (1 + 1e-9)


def test_it_is_found_for_most_plans_and_near_enough_to_be_of_use() -> None:
    ratios = []
    for seed in range(30):
        power = power_of(random_wired(Random(seed), 6))
        if power.bounds:
            ratios += [power.bounds[name] / spot.ohms for name, spot in power.worst.items()]
    assert len(ratios) > 20 and sorted(ratios)[len(ratios) // 2] < 8


def test_rules_agree_with_and_without_it(monkeypatch: pytest.MonkeyPatch) -> None:
    from power.test_rules import found, weak
    from railbond.circuit.power.solved import SolvedNetwork

    texts = [weak(Random(seed), seed % 4) for seed in range(12)]
    names = "short-will-not-trip", "voltage-drop"
    quick = [found(text, *names) for text in texts]
    monkeypatch.setattr(SolvedNetwork, "may_exceed", lambda self, limits: True)
    assert quick == [found(text, *names) for text in texts]
    assert any(quick)


def test_a_sound_plan_is_not_solved() -> None:
    text = (
        "booster B1 15 V 5 A\ndistrict main from B1 trips 4 A\nbus main -> P1 3 m 14 AWG\nsegment a stop -> J 2 m\n"
        "segment b J -> stop 1 m\nfeeder P1 -> a 22 AWG 20 cm\nengine e left 0 9 mm right 0 9 mm 0.4 A\n"
    )
    power = facts_of(text).power
    assert not power.may_exceed({"main": 1.875})
    assert "frame" not in vars(power) and "network" not in vars(power)


@pytest.mark.parametrize("seed", range(10))
def test_where_a_wire_was_turned_round_the_bound_is_told_from_before(seed: int) -> None:
    """And is no less than what would be worked out anew."""
    dice = Random(seed)
    text = random_wired(dice, 6)
    file = SteadyFile(read(Source("plan", text)))
    before = Facts(file.steady.statements, {"plan": file.steady.source})
    for line in dice.sample([one for one in text.split("\n") if one.startswith(("feeder", "bus"))], 4):
        turned = line.removesuffix(" crossed") if line.endswith(" crossed") else f"{line} crossed"
        typed = SteadyFile(read(Source("plan", text.replace(line, turned, 1))), file).steady
        assert before.power.loose_bounds is not None
        power = Facts(typed.statements, {"plan": typed.source}, before=before).power
        assert power.loose_bounds and "bounds" not in vars(power) and power.bounds
        assert all(ohms <= power.loose_bounds[name] * (1 + 1e-9) for name, ohms in power.bounds.items())
