"""Thousands of places on the rails of random layouts, against ngspice on the same resistors."""

from __future__ import annotations

from random import Random

import pytest

from needs import program
from power.spice import Point, deck, impedances
from power.wired import power_of, random_wired
from railbond.circuit.power.quadratic import resistance
from railbond.circuit.power.solved import SolvedNetwork

SEEDS, TURNOUTS = 20, 12


def points(power: SolvedNetwork, rng: Random) -> list[Point]:
    """A random place on every stretch of rail that is always fed."""
    rails = [rail for found in power.network.rails.values() for rail in found]
    return [Point(rail, rng.uniform(0.01, 0.99)) for rail in rails if power.frame.sources_at(rail.one)]


@pytest.mark.parametrize("seed", range(SEEDS))
def test_places_agree(seed: int) -> None:
    """To one part in a million, which is what the acceptance asks; both are far better."""
    rng = Random(seed)
    power = power_of(random_wired(rng, TURNOUTS))
    asked = points(power, rng)
    answers = impedances(program("ngspice"), deck(power.frame, asked))
    assert len(answers) == len(asked)
    for number, (rail, share) in enumerate(asked):
        (reach,) = power.frame.reaches(rail)
        place = rail.start + share * (rail.stop - rail.start)
        assert resistance(rail, reach, place)[0] == pytest.approx(answers[number], rel=1e-6)


def test_there_are_thousands_of_places() -> None:
    texts = (random_wired(Random(seed), TURNOUTS) for seed in range(SEEDS))
    assert sum(len(points(power_of(text), Random(1))) for text in texts) > 2000
