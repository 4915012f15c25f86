"""Places on a line: each at least so far behind some others, and as near as can be to those it is tied to."""

from __future__ import annotations

from typing import Any

Least = tuple[int, int, int]
"""The second place lies at least so far behind the first."""

Pull = tuple[int, int, int]
"""The second place lies behind the first, and each step between them costs so much."""

LARGEST = 3000
"""Places that are drawn together; in a larger plan each goes as far to the front as it can."""


def settle(count: int, least: list[Least], pulls: list[Pull]) -> list[int]:
    """The places of least cost, from 0. A pull's second place must lie behind its first by some chain of `least`."""
    front = _longest(count, least)
    if count > LARGEST or not pulls:
        return front
    return _longest(count, least + _tight(count, least, pulls, front))


def _longest(count: int, least: list[Least]) -> list[int]:
    """The foremost places; Bellman and Ford's way, over those that moved. Raises ValueError where there are none."""
    after: list[list[tuple[int, int]]] = [[] for _ in range(count)]
    for one, other, far in least:
        after[one].append((other, far))
    place = [0] * count
    moved = list(range(count))
    for _ in range(count + 1):
        if not moved:
            return place
        again: dict[int, None] = {}
        for one in moved:
            for other, far in after[one]:
                if place[other] < place[one] + far:
                    place[other] = place[one] + far
                    again[other] = None
        moved = list(again)
    raise ValueError("no places fit: some lie behind themselves")


def _tight(count: int, least: list[Least], pulls: list[Pull], front: list[int]) -> list[Least]:
    """What must not lie further apart than it has to: where the dual of the least cost, a flow of greatest length,
    runs (complementary slackness)."""
    import networkx as nx

    graph: Any = nx.MultiDiGraph()
    demand = [0] * count
    for one, other, weight in pulls:
        demand[one] -= weight
        demand[other] += weight
    graph.add_nodes_from((place, {"demand": each}) for place, each in enumerate(demand))
    for index, (one, other, far) in enumerate(least):
        graph.add_edge(one, other, key=index, weight=-far)
    flow = nx.network_simplex(graph)[1]
    return [
        (least[index][1], least[index][0], -least[index][2])
        for there in flow.values()
        for keys in there.values()
        for index, amount in keys.items()
        if amount
    ]
