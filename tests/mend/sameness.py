"""Whether two texts of a plan mean the same: the same rail graph, conductor by conductor and bond by bond."""

from __future__ import annotations

from railbond.circuit.facts import Facts
from trackplan.read import read
from trackplan.span import Source


def same_rails(path: str, one: str, other: str) -> bool:
    """Compares the rail graphs of two texts of one file, places in the text left out."""
    return _meaning(Source(path, one)) == _meaning(Source(path, other))


def _meaning(source: Source) -> tuple[object, ...]:
    reading = read(source)
    graph = Facts(reading.statements, {source.path: source}, reading.broken).graph
    bonds = [(bond.one, bond.other, bond.when, bond.kind) for bond in graph.bonds]
    rolls = [(roll.one, roll.other, roll.needs, roll.meeting) for roll in graph.rolls]
    return graph.names, bonds, rolls, graph.sources, graph.rails, graph.frogs, graph.positions
