"""What a meter reads, worked out plainly: all metal spread over anew for every reading."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from itertools import combinations, product
from pathlib import Path

from railbond.bench.mistake import Mistake
from railbond.circuit.facts import Facts
from railbond.circuit.graph import Bond, RailGraph
from trackplan.gather import gather
from trackplan.read import read
from trackplan.span import Source

Setting = Mapping[str, str]
RIGHT = Mistake("none", "as the plan has it")


def facts(text: str) -> Facts:
    """The facts of a plan's text."""
    source = Source("p", text)
    reading = read(source)
    return Facts(reading.statements, {"p": source}, reading.broken)


def facts_at(path: str) -> Facts:
    """The facts of a plan on disk."""
    gathered = gather(path, lambda name: Path(name).read_text(encoding="utf-8"))
    return Facts(gathered.statements, gathered.sources, gathered.broken)


def labels(graph: RailGraph, mistake: Mistake, setting: Setting) -> list[int]:
    """For each conductor the least one that it is joined to."""
    bonds = [bond for number, bond in enumerate(graph.bonds) if number not in mistake.lost] + list(mistake.made)
    found = list(range(len(graph.names)))
    changed = True
    while changed:
        changed = False
        for bond in bonds:
            if holds(bond, setting) and found[bond.one] != found[bond.other]:
                found[bond.one] = found[bond.other] = min(found[bond.one], found[bond.other])
                changed = True
    return found


def holds(bond: Bond, setting: Setting) -> bool:
    return bond.when is None or setting.get(bond.when[0]) == bond.when[1]


def settings(graph: RailGraph) -> Iterator[dict[str, str]]:
    """Every setting there is."""
    names = list(graph.positions)
    for stands in product(*graph.positions.values()):
        yield dict(zip(names, stands, strict=True))


def shows(graph: RailGraph, mistake: Mistake, setting: Setting) -> bool:
    """Whether any two conductors read otherwise than they should."""
    right, wrong = labels(graph, RIGHT, setting), labels(graph, mistake, setting)
    return partition(right) != partition(wrong)


def partition(labels: list[int]) -> set[frozenset[int]]:
    """What hangs together."""
    groups: dict[int, set[int]] = {}
    for conductor, label in enumerate(labels):
        groups.setdefault(label, set()).add(conductor)
    return {frozenset(group) for group in groups.values()}


def probes(graph: RailGraph) -> Iterator[tuple[dict[str, str], int, int]]:
    """Every probe there is."""
    for setting in settings(graph):
        yield from ((setting, *pair) for pair in combinations(range(len(graph.names)), 2))
