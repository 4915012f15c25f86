"""A layout that was built from its schedule, held against the rail graph that was proven."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from itertools import product
from math import prod
from random import Random

from railbond.circuit.facts import Facts
from railbond.circuit.graph import RailGraph

from .bench import Bench, Node, spread

MOST_SETTINGS = 48
"""Settings up to which all are walked; beyond, so many random ones."""


def settings(graph: RailGraph, rng: Random, most: int = MOST_SETTINGS) -> Iterator[dict[str, str]]:
    names, stands = list(graph.positions), list(graph.positions.values())
    if prod(map(len, stands)) <= most:
        yield from (dict(zip(names, one, strict=True)) for one in product(*stands))
        return
    yield from ({name: rng.choice(at) for name, at in graph.positions.items()} for _ in range(most))


def proven(graph: RailGraph, setting: Mapping[str, str]) -> list[int]:
    """What hangs together in the rail graph, each conductor's number."""
    near: dict[int, list[int]] = {one: [] for one in range(len(graph.names))}
    for bond in graph.bonds:
        if bond.when is None or setting.get(bond.when[0]) == bond.when[1]:
            near[bond.one].append(bond.other)
            near[bond.other].append(bond.one)
    labels = spread(near)  # type: ignore[arg-type]
    return [labels[one] for one in near]  # type: ignore[index]


class Same:
    """Which metal at the bench each conductor of the rail graph is."""

    def __init__(self, facts: Facts, bench: Bench) -> None:
        self.facts, self.bench = facts, bench
        self.node: dict[int, Node] = {}
        self.place: dict[int, Node] = {}
        """For plain track the middle of each stretch: a place that is there however it is cut."""
        for name, piece in facts.layout.pieces.items():
            for number, metal in enumerate(piece.template.metals):
                conductor, middle = facts.wiring.metal(name, number), (metal.start + metal.stop) / 2
                assert metal.words in bench.things[name].metals, f"nobody laid {name}'s {metal.words}"
                if metal.stop:
                    self.place[conductor] = name, metal.words, middle
                self.node[conductor] = bench.resolved(self.place.get(conductor, (name, metal.words)))
        for name, base in facts.wiring.wires.items():
            for conductor in (base, base + 1):
                self.node[conductor] = (name, facts.graph.names[conductor].rpartition(".")[2])
        self._units()

    def _units(self) -> None:
        graph = self.facts.graph
        for conductor, source in graph.sources.items():
            if source.kind == "unit":
                piece, frog = self.node[next(bond.other for bond in graph.bonds if bond.one == conductor)]
                number = 1 + self.bench.things[str(piece)].frogs.index(str(frog))
                self.node[conductor] = ("unit", piece, f"automatic frog unit {number}")

    def differences(self, setting: Mapping[str, str]) -> list[str]:
        """Metals that hang together on one side and not on the other."""
        mine, theirs = self.bench.labels(setting), proven(self.facts.graph, setting)
        names = self.facts.graph.names
        first: dict[tuple[object, int], int] = {}
        by_mine: dict[object, int] = {}
        by_theirs: dict[int, int] = {}
        found = []
        for conductor, node in self.node.items():
            here, there = mine.get(node, node), theirs[conductor]
            if (here, there) in first:
                continue
            first[here, there] = conductor
            if here in by_mine:
                found.append(f"only at the bench: {names[by_mine[here]]} - {names[conductor]}")
            if there in by_theirs:
                found.append(f"only in the proof: {names[by_theirs[there]]} - {names[conductor]}")
            by_mine.setdefault(here, conductor)
            by_theirs.setdefault(there, conductor)
        return found
