"""What is told of a short without laying out the plan anew must be so when it is laid out anew."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from random import Random

from benchmark.start import SOUND, spoilt
from oracle.plans import random_sound, seed_faults
from railbond.circuit.facts import Facts
from railbond.circuit.graph import SupplyLeg
from railbond.doorway import enter
from railbond.explaining.catalog import slips
from railbond.explaining.conflicts import conflicts
from railbond.explaining.standing import Legs, Standing

FAULTY = Path(__file__).parents[2] / "example_plans" / "faulty"
NAMES = ("legs-joined", "frog-rail-gap-missing", "districts-joined", "reversing-without-reverser", "frog-rails-bridged")


def plans() -> Iterator[str]:
    yield spoilt(SOUND.read_text(encoding="utf-8"))
    yield from ((FAULTY / f"{name}.trackplan").read_text(encoding="utf-8") for name in NAMES)
    yield from (seed_faults(random_sound(Random(number), 6), 2, Random(number))[0] for number in range(30))


def test_a_short_that_is_said_to_stand_does() -> None:
    """Leg for leg in the proof of the changed plan; and it is said of many changes, or it would be worth nothing."""
    stood = tried = 0
    for text in plans():
        facts = enter("plan", {"plan": text}.__getitem__).facts.in_trial()
        standing = Standing(facts)
        for conflict in conflicts(facts):
            for slip in slips(facts, conflict) if conflict.legs else ():
                try:
                    revised = facts.revised(slip.edits)
                except ValueError:
                    continue
                tried += 1
                if standing.stands(conflict.legs, revised):
                    stood += 1
                    assert is_shorted(revised, supplies(facts, conflict.legs)), (text, slip)
    assert stood > tried / 3 > 50


def test_with_the_plan_before_at_hand_the_same_is_told() -> None:
    """Of a plan that became short by a key, as of one that nobody knows more of."""
    fallen = known = 0
    for text in plans():
        facts = enter("plan", {"plan": text}.__getitem__).facts.in_trial()
        for conflict in conflicts(facts):
            tried = [facts.tried(slip.edits) for slip in (slips(facts, conflict) if conflict.legs else ())]
            made = [one for one in tried if one]
            cured = next((one for one in made if not is_shorted(one, supplies(facts, conflict.legs))), None)
            if cured:
                typed, alone = Standing(Facts(facts.statements, facts.sources, before=cured)), Standing(facts)
                said = [typed.stands(conflict.legs, one) for one in made]
                assert said == [alone.stands(conflict.legs, one) for one in made], text
                fallen, known = fallen + said.count(False), known + bool(typed._since)
    assert fallen > 20 < known * 10


def supplies(facts: Facts, legs: Legs) -> tuple[SupplyLeg, SupplyLeg]:
    assert legs
    return facts.graph.sources[legs[0]], facts.graph.sources[legs[1]]


def is_shorted(facts: Facts, legs: tuple[SupplyLeg, SupplyLeg]) -> bool:
    """Whether two legs are one metal in every setting."""
    at = {source: facts.proof.component[conductor] for conductor, source in facts.graph.sources.items()}
    return at.get(legs[0], -1) == at.get(legs[1], -2)
