"""The resistance from its supply of every place on every rail.

What always holds makes the *frame*. Since taking a conductor away never lowers a resistance (Rayleigh), the frame's
resistances are the worst of any setting for all that it feeds. What it does not feed (frogs, track behind points)
is worked out in the settings in which it is fed, island by island: see `islands`.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import cached_property

from railbond.circuit.graph import Setting, SupplyLeg
from trackplan.record import NamedTuple, new

from .elimination import Elimination, Link, solved
from .network import Network, Rail, Resistor

ALWAYS: Setting = frozenset()


Sources = frozenset[SupplyLeg]
"""The leg that feeds something, or the legs that are one wire and feed it as a common rail."""


class Reach(NamedTuple):
    """How a rail's two nodes see their supply, in ohms: each by itself, and the transfer resistance between them."""

    sources: Sources
    setting: Setting
    one: float
    other: float
    between: float


class Frame:
    """The part of a network that is always fed, by one leg of one supply each; `is_whole` where that is a whole plan's
    network."""

    def __init__(self, network: Network, leave_out: frozenset[str], is_whole: bool = True) -> None:
        self.network = network
        self.is_whole = is_whole
        self.group = _groups(network)
        self.sources = _sources(network, self.group, leave_out)
        self.grounds = frozenset(network.roots.values())
        self.number: dict[int, int] = {}
        """The place of each live node in the solution of its group."""
        self.members: dict[int, list[int]] = {}
        """The live nodes of each group, in the order of their places."""
        self.solutions = self._solve()

    def _solve(self) -> dict[int, Elimination]:
        """Each group by itself, from the node that it begins with: what was solved before is not solved again."""
        members = self.members
        for node in range(self.network.size):
            if self.group[node] in self.sources and node not in self.grounds:
                members.setdefault(self.group[node], []).append(node)
        for nodes in members.values():
            self.number.update((node, place) for place, node in enumerate(nodes))
        links: dict[int, list[Link]] = {group: [] for group in members}
        leaks: dict[int, dict[int, float]] = {group: {} for group in members}
        self._sort_out(links, leaks)
        told = {
            group: (len(nodes), tuple(links[group]), tuple(leaks[group].items())) for group, nodes in members.items()
        }
        return solved(told, self.is_whole)

    def _sort_out(self, links: dict[int, list[Link]], leaks: dict[int, dict[int, float]]) -> None:
        numbers, group = self.number.get, self.group
        for one, other, ohms, *_ in self.network.resistors:
            first, second = numbers(one), numbers(other)
            if first is not None and second is not None:
                links[group[one]].append((first, second, 1 / ohms))
            elif first is not None:
                leak = leaks[group[one]]
                leak[first] = leak.get(first, 0.0) + 1 / ohms
            elif second is not None:
                leak = leaks[group[other]]
                leak[second] = leak.get(second, 0.0) + 1 / ohms

    @cached_property
    def beside(self) -> list[list[tuple[int, Resistor]]]:
        """Each node's neighbors by their resistors."""
        found: list[list[tuple[int, Resistor]]] = [[] for _ in range(self.network.size)]
        for one in self.network.resistors:
            found[one.one].append((one.other, one))
            found[one.other].append((one.one, one))
        return found

    def sources_at(self, node: int) -> Sources | None:
        """What always feeds a node, where that is one wire."""
        return self.sources.get(self.group[node])

    def own(self, node: int) -> float:
        """Ohms between a node and its supply."""
        return self.solutions[self.group[node]].own[self.number[node]] if node in self.number else 0.0

    def transfer(self, one: int, other: int) -> float:
        """Volts at one node for each ampere taken from the other."""
        if one in self.grounds or other in self.grounds or self.group[one] != self.group[other]:
            return 0.0
        return self.solutions[self.group[one]].transfer(self.number[one], self.number[other])

    def voltages(self, amperes: dict[int, float]) -> dict[int, float]:
        """Volts lost while these currents are drawn at every live node of their groups; elsewhere none are."""
        drawn: dict[int, dict[int, float]] = {}
        for node, flow in amperes.items():
            if node in self.number:
                drawn.setdefault(self.group[node], {})[self.number[node]] = flow
        found: dict[int, float] = {}
        for group, flows in drawn.items():
            found.update(zip(self.members[group], self.solutions[group].voltages(flows), strict=True))
        return found

    def reaches(self, rail: Rail) -> Sequence[Reach]:
        """The rail's reach, where the frame feeds it."""
        group = self.group[rail.one]
        sources = self.sources.get(group)
        if not sources:
            return ()
        one, other = self.number.get(rail.one), self.number.get(rail.other)
        if one is None or other is None:  # a leg of the supply itself
            return (Reach(sources, ALWAYS, self.own(rail.one), self.own(rail.other), 0.0),)
        solution = self.solutions[group]
        own, between = solution.own, solution.transfer(one, other)
        return (new(Reach, (sources, ALWAYS, own[one], own[other], between)),)


def _groups(network: Network) -> list[int]:
    """A number for each node, the same for all that hang together by resistors."""
    parent = list(range(network.size))
    for one, other, *_ in network.resistors:  # the loops are written out: they are walked for every resistor of a plan
        while parent[one] != one:
            parent[one] = one = parent[parent[one]]
        while parent[other] != other:
            parent[other] = other = parent[parent[other]]
        parent[one] = other
    for node in range(network.size):
        root = node
        while parent[root] != root:
            root = parent[root]
        parent[node] = root
    return parent


def _sources(network: Network, group: list[int], leave_out: frozenset[str]) -> dict[int, Sources]:
    """What feeds each group; those that two wires feed, or a supply that is left out, are not worked out."""
    found: dict[int, set[SupplyLeg]] = {}
    for conductor, node in network.roots.items():
        found.setdefault(group[node], set()).add(network.wiring.graph.sources[conductor])
    return {
        group: frozenset(sources) for group, sources in found.items()
        if _is_one_wire(sources) and leave_out.isdisjoint(source.supply for source in sources)
    }  # fmt: skip


def _is_one_wire(sources: set[SupplyLeg]) -> bool:
    commons = {source.common for source in sources}
    return len(sources) == 1 or (len(commons) == 1 and commons != {""})
