"""A path that is looked for only where it may lie is the one that is found by looking everywhere."""

from __future__ import annotations

from random import Random

import pytest

from oracle.plans import big_layout, random_wild
from railbond.circuit import witness
from railbond.circuit.facts import Facts
from railbond.circuit.graph import Setting
from trackplan.read import read
from trackplan.span import Source


@pytest.mark.parametrize("seed", range(12))
def test_a_far_path_is_that_of_a_search_everywhere(seed: int, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(witness, "NEAR", 0)
    dice, told = Random(seed), 0
    reading = read(Source("plan", random_wild(dice, 8) if seed % 3 else big_layout(20 + seed)))
    facts = Facts(reading.statements, {"plan": reading.source})
    graph, sources = facts.graph, [*facts.graph.sources.values()]
    for _ in range(150):
        start, source = dice.randrange(len(graph.names)), dice.choice(sources)
        goals = {one for one, other in graph.sources.items() if other == source}
        setting: Setting = frozenset((name, dice.choice(at)) for name, at in graph.positions.items() if at)
        found = facts.witness.path_to(start, source, setting)
        assert found == facts.witness.path(start, goals.__contains__, setting)
        told += bool(found)
    assert told > 1
