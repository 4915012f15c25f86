"""Blocks of a graph are those that networkx finds."""

from __future__ import annotations

from random import Random

import networkx as nx

from railbond.circuit.doubly_connected import blocks_of_edges


def test_blocks_are_those_of_a_library() -> None:
    rng = Random(1)
    for _ in range(400):
        nodes = rng.randrange(2, 30)
        drawn = [(rng.randrange(nodes), rng.randrange(nodes)) for _ in range(rng.randrange(1, 2 * nodes))]
        edges = [edge for edge in drawn if edge[0] != edge[1]]
        found = blocks_of_edges(edges)
        blocks = [{edge for edge, number in found.items() if number == one} for one in set(found.values())]
        known = [set(map(frozenset, block)) for block in nx.biconnected_component_edges(nx.Graph(edges))]
        assert sorted(map(sorted_edges, blocks)) == sorted(map(sorted_edges, known))


def sorted_edges(block: set[frozenset[int]]) -> list[list[int]]:
    return sorted(map(sorted, block))


def test_a_long_way_is_walked() -> None:
    """Where a function that calls itself would run out of room."""
    ring = [(one, (one + 1) % 5_000) for one in range(5_000)]
    assert set(blocks_of_edges(ring).values()) == {0}
    assert len(set(blocks_of_edges(ring[:-1]).values())) == 4_999
