"""What swaps cost, told from what changes, is what they cost worked out anew; and the fewest are the fewest."""

from __future__ import annotations

from itertools import product
from random import Random

import pytest

from oracle.plans import random_sound, seed_faults
from railbond.circuit.bus_tree import SwapCosts, by_wire
from railbond.circuit.facts import Facts
from railbond.circuit.polarity import Polarity
from railbond.doorway import enter


def facts_of(number: int) -> Facts:
    """A plan with crossed wires and runs."""
    text = seed_faults(random_sound(Random(number), 8), 4, Random(number))[0]
    return enter("plan", {"plan": text}.__getitem__).facts


def total(polarity: Polarity, wanted: dict[tuple[int, str], bool]) -> float:
    behind = by_wire(polarity.votes)
    cost = polarity.tree.costs(behind, wanted)
    edges = sum(vote.cost for vote in behind.get("", ()) if vote.polarity != wanted[vote.stretch])
    return edges + sum(cost[name][False] for name in polarity.tree.order if name not in polarity.tree.above)


@pytest.mark.parametrize("number", range(12))
def test_turned_stretches_cost_what_they_cost_anew(number: int) -> None:
    polarity, dice = Polarity(facts_of(number).turning), Random(number)
    costs, wanted = SwapCosts(polarity.tree, polarity.votes, polarity.wanted), dict(polarity.wanted)
    for _ in range(20):
        stretch, before = dice.choice(sorted(wanted)), total(polarity, wanted)
        wanted[stretch] = not wanted[stretch]
        assert costs.turn(stretch) == pytest.approx(total(polarity, wanted) - before)


def test_no_other_polarities_need_fewer_swaps() -> None:
    tried = 0
    for number in range(12):
        polarity = Polarity(facts_of(number).turning)
        if 1 < len(polarity.wanted) <= 8:
            tried += 1
            least = total(polarity, polarity.wanted)
            for choice in product((False, True), repeat=len(polarity.wanted)):
                assert least <= total(polarity, dict(zip(polarity.wanted, choice, strict=True))) + 1e-6
    assert tried
