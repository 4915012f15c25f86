"""What every conductor carries, in every setting of the switches, found without walking the settings.

Bonds that always hold are contracted into *lumps*. A lump with a fixed source ends every path, so what is left falls
into small islands of lumps tied by blades and contacts. Within an island the *ways* of a lump are found: each is
a source that it reaches and the least setting in which it does. A lump's potential in a setting is then
the sources of those ways that the setting allows, and every question about some setting is asked of pairs
of ways. An island that takes more steps than the budget is named in `unproven`, and its answers are partial.

Finding a path whose conditions agree is hard in general (paths that avoid forbidden pairs: Gabow, Maheshwari and
Osterweil 1976, from memory); islands of real track are small.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Callable, Iterable, Iterator
from typing import NamedTuple

from .graph import Bond, RailGraph, Setting, Source, agree

BUDGET = 50_000
"""Steps that one island may take unless the plan's `limit proof-steps` says otherwise: far above what track needs."""


class Way(NamedTuple):
    """A source that a lump reaches, and the least setting in which it does."""

    source: Source
    setting: Setting


class Proof:
    """Lumps, islands and ways of one rail graph. `holds` chooses the bonds that count (all, unless said)."""

    def __init__(self, graph: RailGraph, holds: Callable[[Bond], bool] | None = None, budget: int = BUDGET) -> None:
        self.graph = graph
        self.budget = budget
        bonds = graph.bonds if holds is None else [bond for bond in graph.bonds if holds(bond)]
        self.lump = contract(len(graph.names), bonds)
        self.sources: dict[int, dict[Source, None]] = {}
        for conductor, source in graph.sources.items():
            self.sources.setdefault(self.lump[conductor], {})[source] = None
        self.ties: dict[int, list[tuple[int, Setting]]] = {}
        self._tie(bonds)
        self.unproven: list[frozenset[str]] = []
        self._ways: dict[int, list[Way]] = {}

    def _tie(self, bonds: Iterable[Bond]) -> None:
        for bond in bonds:
            if bond.when is not None and (one := self.lump[bond.one]) != (other := self.lump[bond.other]):
                setting = frozenset((bond.when,))
                self.ties.setdefault(one, []).append((other, setting))
                self.ties.setdefault(other, []).append((one, setting))

    def ways(self, conductor: int) -> list[Way]:
        """Every source that a conductor reaches, each with the least settings in which it does."""
        return self.lump_ways(self.lump[conductor])

    def lump_ways(self, lump: int) -> list[Way]:
        """The same for a lump."""
        if lump not in self._ways:
            if self._ends_paths(lump) or lump not in self.ties:
                self._ways[lump] = [Way(source, frozenset()) for source in self.sources.get(lump, ())]
            else:
                self._explore(self._island(lump))
        return self._ways[lump]

    def lumps(self) -> Iterator[int]:
        """Every lump that has a source of its own or a conditional tie."""
        return iter(dict.fromkeys((*self.sources, *self.ties)))

    def _ends_paths(self, lump: int) -> bool:
        return any(source.kind in ("fixed", "analog") for source in self.sources.get(lump, ()))

    def _island(self, lump: int) -> list[int]:
        """The lumps without a fixed source that hang together with this one."""
        seen = {lump: None}
        queue = [lump]
        for here in queue:
            for there, _ in self.ties.get(here, ()):
                if there not in seen and not self._ends_paths(there):
                    seen[there] = None
                    queue.append(there)
        return queue

    def _explore(self, island: list[int]) -> None:
        """Carries every source inwards, shortest settings first, dropping ways that a lesser one covers."""
        found: dict[int, dict[Source, list[Setting]]] = {lump: {} for lump in island}
        queue: deque[tuple[int, Source, Setting]] = deque()
        for lump in island:
            queue.extend((lump, source, frozenset()) for source in self.sources.get(lump, ()))
        for lump in island:
            for there, setting in self.ties.get(lump, ()):
                if there not in found:
                    queue.extend((lump, source, setting) for source in self.sources[there])
        steps = 0
        while queue:
            lump, source, setting = queue.popleft()
            kept = found[lump].setdefault(source, [])
            if any(less <= setting for less in kept):
                continue
            kept[:] = [more for more in kept if not setting <= more]
            kept.append(setting)
            for there, tie in self.ties[lump]:
                steps += 1
                if there in found and agree(longer := setting | tie):
                    queue.append((there, source, longer))
            if steps > self.budget:
                self.unproven.append(self._switches(island))
                break
        for lump, by_source in found.items():
            self._ways[lump] = [Way(s, setting) for s, settings in by_source.items() for setting in settings]

    def _switches(self, island: list[int]) -> frozenset[str]:
        return frozenset(switch for lump in island for _, setting in self.ties[lump] for switch, _ in setting)


def contract(count: int, bonds: Iterable[Bond]) -> list[int]:
    """The lump of each conductor: union-find over the bonds that always hold."""
    parent = list(range(count))
    for bond in bonds:
        if bond.when is None:
            one, other = bond.one, bond.other
            while parent[one] != one:
                parent[one] = one = parent[parent[one]]
            while parent[other] != other:
                parent[other] = other = parent[parent[other]]
            if one != other:
                parent[max(one, other)] = min(one, other)
    for conductor in range(count):
        parent[conductor] = parent[parent[conductor]]
    return parent
