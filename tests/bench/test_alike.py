"""What is told for many mistakes at once, or by the difference to another setting, is what each alone would say."""

from __future__ import annotations

from itertools import combinations
from random import Random

import pytest

from bench.readings import facts
from oracle.plans import random_wild
from railbond.bench.alike import Alike
from railbond.bench.components import Blocks, Ends
from railbond.bench.continuity import Continuity
from railbond.bench.mistakes import mistakes
from railbond.circuit.graph import Literal


@pytest.mark.parametrize("seed", range(6))
def test_mistakes_that_count_as_alike_read_the_same_everywhere(seed: int) -> None:
    chance = Random(seed)
    plan = facts(random_wild(chance, 5))
    every = mistakes(plan.wiring)
    metal = Continuity(plan.graph, every)
    alike = Alike(metal, every)
    assert len(alike.firsts) < len(every), "none of them is alike: nothing is tried here"
    for _ in range(3):
        stand = {switch: chance.choice(stands) for switch, stands in plan.graph.positions.items()}
        for number, mistake in enumerate(every):
            first, own = metal.effect(alike.firsts[alike.number[number]], stand), metal.effect(mistake, stand)
            pairs = combinations(chance.sample(metal.atoms, min(9, len(metal.atoms))), 2)
            assert all(first.sees(*pair) == own.sees(*pair) for pair in pairs), mistake.words
            assert [*first.parts.values()] == [*own.parts.values()], mistake.words


@pytest.mark.parametrize("seed", range(20))
def test_components_by_the_difference_are_those_worked_out_anew(seed: int) -> None:
    chance = Random(seed)
    always: list[Ends] = [_ends(chance) for _ in range(20)]
    switched: dict[Literal, list[Ends]] = {}
    for switch in range(12):
        for position in "ab":
            switched[f"T{switch}", position] = [_ends(chance) for _ in range(chance.randrange(3))]
    kept = Blocks(60, always, switched, {})
    stand = {f"T{switch}": "a" for switch in range(12)}
    for _ in range(40):
        for switch in chance.sample(sorted(stand), chance.choice((1, 2, 12))):
            stand[switch] = chance.choice("ab")
        home, anew = kept.components(dict(stand), ()), Blocks(60, always, switched, {}).components(stand, ())
        assert [home[atom] for atom in range(60)] == [anew[atom] for atom in range(60)]


def _ends(chance: Random) -> Ends:
    return chance.randrange(60), chance.randrange(60)
