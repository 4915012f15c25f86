"""What may be far from a wire is looked at, and what is far is found."""

from __future__ import annotations

from random import Random

import networkx as nx
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from benchmark.railroads import main_line
from power.wired import facts_of, random_wired
from railbond.circuit.power.distances import furthest
from railbond.circuit.power.nearby import furthest_around
from railbond.circuit.power.spacing import doubtful


@settings(max_examples=60)
@given(st.randoms(use_true_random=False), st.integers(0, 6), st.sampled_from([0.2, 0.35, 0.5, 0.8]))
def test_no_segment_that_is_far_goes_unlooked_at(rng: Random, turnouts: int, most: float) -> None:
    facts = facts_of(random_wired(rng, turnouts))
    pieces = facts.layout.pieces
    far = {one.piece for one in furthest(facts.power.network, list(pieces.values())) if one.distance > most}
    looked_at = {piece.name for piece in doubtful(facts.wiring, facts.power.materials, most, facts.power.met)}
    assert {name for name in far if pieces[name].template.length} <= looked_at


@pytest.mark.parametrize("seed", range(20))
def test_far_places_are_found_around_them_as_in_the_whole_layout(seed: int) -> None:
    """A few pieces of a larger layout, with many of its wires taken off."""
    dice = Random(seed)
    lines = random_wired(dice, 20).splitlines()
    facts = facts_of("\n".join(line for line in lines if line[:6] != "feeder" or dice.random() < 0.6) + "\n")
    whole = facts.power.network
    for _ in range(8):
        pieces = dice.sample(list(facts.layout.pieces.values()), 2)
        assert furthest_around(facts.power, pieces) == furthest(whole, pieces)


def test_a_part_with_a_wire_in_reach_is_enough() -> None:
    facts = facts_of(main_line(200))
    pieces = list(facts.layout.pieces.values())
    assert all(furthest_around(facts.power, [one]) for one in pieces[100:110])
    assert "network" not in vars(facts.power)


@settings(max_examples=30)
@given(st.randoms(use_true_random=False), st.integers(0, 4))
def test_distances_against_a_graph_of_short_steps(rng: Random, turnouts: int) -> None:
    """Every rail cut into steps of at most a centimeter, and networkx's shortest paths from all drops at once."""
    facts = facts_of(random_wired(rng, turnouts))
    network, graph = facts.power.network, nx.Graph()
    rails = [(c, rail) for c, found in network.rails.items() for rail in found]
    rails += [(c, rail) for (c, _), rail in network.arms.items()]
    for index, (_, rail) in enumerate(rails):
        steps = int((rail.stop - rail.start) * 100) + 1
        names = [rail.one, *((index, step) for step in range(1, steps)), rail.other]
        nx.add_path(graph, names, weight=(rail.stop - rail.start) / steps)
    graph.add_weighted_edges_from((one.one, one.other, 0.0) for one in network.resistors if one.kind == "joiner")
    wiring = facts.wiring
    drops = {network.nodes[wiring.metal(one.piece, one.metal), one.place] for one in facts.layout.drops}
    walked = nx.multi_source_dijkstra_path_length(graph, drops & set(graph)) if drops & set(graph) else {}
    for far in furthest(network, list(facts.layout.pieces.values())):
        own = [index for index, (conductor, _) in enumerate(rails) if facts.piece_of(conductor) == far.piece]
        nodes = [node for node in graph if isinstance(node, tuple) and node[0] in own and node in walked]
        nodes += [end for index in own for end in (rails[index][1].one, rails[index][1].other) if end in walked]
        assert far.distance == pytest.approx(max(walked[node] for node in nodes), abs=0.011)
