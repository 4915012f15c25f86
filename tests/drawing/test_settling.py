"""Places on a line, held against the least cost that `networkx` finds for the dual of it, a flow."""

from __future__ import annotations

from random import Random
from typing import Any

import networkx as nx
import pytest

from railbond.faces.drawing.settling import Least, Pull, settle


def problem(random: Random) -> tuple[int, list[Least], list[Pull]]:
    """Places of which each must lie behind some before it, and of which some are drawn to those."""
    count = random.randint(2, 14)
    least, pulls = [], []
    for other in range(1, count):
        for one in random.sample(range(other), min(other, random.randint(1, 3))):
            least.append((one, other, random.randint(0, 9)))
            if random.random() < 0.7:
                pulls.append((one, other, random.randint(1, 3)))
    return count, least, pulls


def least_cost(count: int, least: list[Least], pulls: list[Pull]) -> int:
    """What the best places cost, by the dual: the flow of greatest length."""
    graph: Any = nx.MultiDiGraph()
    demand = [0] * count
    for one, other, weight in pulls:
        demand[one] -= weight
        demand[other] += weight
    graph.add_nodes_from((place, {"demand": each}) for place, each in enumerate(demand))
    for one, other, far in least:
        graph.add_edge(one, other, weight=-far)
    return -int(nx.network_simplex(graph)[0])


@pytest.mark.parametrize("seed", range(60))
def test_places_keep_their_distance_and_cost_the_least(seed: int) -> None:
    count, least, pulls = problem(Random(seed))
    places = settle(count, least, pulls)
    assert all(places[other] - places[one] >= far for one, other, far in least)
    assert sum(weight * (places[other] - places[one]) for one, other, weight in pulls) == least_cost(
        count, least, pulls
    )
