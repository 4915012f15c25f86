"""Where supplies are gapped apart is a minimum cut, and of all of these the one nearest to either supply."""

from __future__ import annotations

from itertools import combinations
from random import Random

import networkx as nx

from oracle.plans import random_sound, random_wild
from railbond.circuit.facts import Facts
from railbond.fixes.parting import Boundary, _cuts, _drops, _fed, _joints, _nearest_cuts, shared_leg
from trackplan.read import read
from trackplan.span import Source


def test_the_nearest_cuts_are_minimum_cuts() -> None:
    """Asked from one end and from the other, with every place at which track may be gapped as an edge both ways."""
    several = 0
    for seed in range(24):
        rng = Random(seed)
        plan = (random_sound if seed % 4 else random_wild)(rng, 4 + seed % 12)
        facts = facts_of("".join(line for line in plan.splitlines(True) if not line.startswith("gap")))
        pairs = list(combinations(facts.layout.supplies, 2))
        for one, other in rng.sample(pairs, min(len(pairs), 8)):
            near, far = _nearest_cuts(facts, one, other)
            assert (near, far) == minimum_cuts(facts, one, other)
            several += near != far
    assert several > 20


def facts_of(plan: str) -> Facts:
    source = Source("plan", plan)
    reading = read(source)
    return Facts(reading.statements, {"plan": source}, reading.broken)


def minimum_cuts(facts: Facts, one: str, other: str) -> tuple[list[Boundary], list[Boundary]]:
    """The places on the border of what can be told to be the other's side, asked from there; and of the one's."""
    drops, shared = _drops(facts), shared_leg(facts, one, other)
    places = [*_joints(facts, drops, shared), *_cuts(facts, drops, shared)]
    graph = nx.DiGraph()
    graph.add_nodes_from(("one", "other"))
    for place in places:
        for here, there in ((place.one, place.other), (place.other, place.one)):
            known = graph[here][there]["capacity"] if graph.has_edge(here, there) else 0
            graph.add_edge(here, there, capacity=known + place.cost)
    for spot, supplies in _fed(facts, drops):
        graph.add_edges_from([("one", spot)] * (one in supplies) + [(spot, "other")] * (other in supplies))
    try:
        _, (_, behind) = nx.minimum_cut(graph, "one", "other")
        _, (_, before) = nx.minimum_cut(graph.reverse(), "other", "one")
    except nx.NetworkXUnbounded:
        return [], []
    near, far = ([one for one in places if (one.one in side) != (one.other in side)] for side in (behind, before))
    return near, far
