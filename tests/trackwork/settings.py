"""Every setting of a rail graph walked one by one, and the same question put to a solver."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import product

from railbond.circuit.graph import RailGraph, Setting, SupplyLeg

Potentials = dict[int, frozenset[SupplyLeg]]


def settings(graph: RailGraph) -> Iterator[Setting]:
    """All of them."""
    for positions in product(*graph.positions.values()):
        yield frozenset(zip(graph.positions, positions, strict=True))


def potentials(graph: RailGraph, setting: Setting, touches: bool = True) -> Potentials:
    """The sources that each conductor reaches in a setting, by search from each source."""
    ties: dict[int, list[int]] = {}
    for bond in graph.bonds:
        if (bond.when is None or bond.when in setting) and (touches or bond.kind != "touch"):
            ties.setdefault(bond.one, []).append(bond.other)
            ties.setdefault(bond.other, []).append(bond.one)
    found: dict[int, set[SupplyLeg]] = {conductor: set() for conductor in range(len(graph.names))}
    for start, source in graph.sources.items():
        seen = {start}
        queue = [start]
        for here in queue:
            found[here].add(source)
            fresh = [there for there in ties.get(here, ()) if there not in seen]
            seen.update(fresh)
            queue += fresh
    return {conductor: frozenset(sources) for conductor, sources in found.items()}


def conflict(one: frozenset[SupplyLeg], other: frozenset[SupplyLeg]) -> bool:
    return any(mine.opposes(theirs) for mine in one for theirs in other)


def can_short(graph: RailGraph) -> bool:
    """Whether in some setting metal joins two opposed sources: z3 looks for a setting and a path, rank by rank.

    A conductor reached from a source has a rank, and a neighbor of a lower one through a bond that holds.
    """
    import z3

    switches = {name: z3.Int(name) for name in graph.positions}
    solver = z3.Solver()
    for name, positions in graph.positions.items():
        solver.add(switches[name] >= 0, switches[name] < len(positions))

    def holds(when: tuple[str, str] | None) -> z3.BoolRef:
        if when is None:
            return z3.BoolVal(True)
        positions = graph.positions.get(when[0], ())
        return switches[when[0]] == positions.index(when[1]) if when[1] in positions else z3.BoolVal(False)

    carried = {source: _reached(z3, solver, graph, source, holds) for source in set(graph.sources.values())}
    clashes = [
        z3.And(here[conductor], there[conductor])
        for one, here in carried.items()
        for other, there in carried.items()
        if one.opposes(other)
        for conductor in graph.sources
    ]
    solver.add(z3.Or(*clashes))
    return solver.check() == z3.sat  # type: ignore[no-any-return]


def _reached(z3, solver, graph: RailGraph, source: SupplyLeg, holds):  # type: ignore[no-untyped-def]
    """For each conductor whether a source reaches it; only such as it does reach may be told so."""
    name = f"{source.supply}.{source.leg}"
    reach = {one: z3.Bool(f"{name} {one}") for one in range(len(graph.names))}
    rank = {one: z3.Int(f"rank {name} {one}") for one in reach}
    ways: dict[int, list[object]] = {one: [] for one in reach}
    for bond in graph.bonds:
        for here, there in ((bond.one, bond.other), (bond.other, bond.one)):
            ways[here].append(z3.And(holds(bond.when), reach[there], rank[there] < rank[here]))
    for one in reach:
        if graph.sources.get(one) != source:
            solver.add(z3.Implies(reach[one], z3.Or(*ways[one])))
        solver.add(rank[one] >= 0)
    return reach
