"""Resistances of a network of resistors to its ground, all at once, by eliminating its nodes one by one.

A node is eliminated by turning the star of its resistors into a mesh between its neighbors; the node with the
fewest neighbors comes first, so that trees and rings, which layouts nearly are, make hardly any new resistor. Going
back, each node's resistance to ground follows from those of the neighbors that it had (Takahashi, Fagan and Chin
1973, from memory), and so does the transfer resistance to each of them: the voltage here for an ampere there. All
sums are of positive terms, so no digits are lost.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping

Link = tuple[int, int, float]
"""Two nodes and the conductance between them, in siemens."""

Told = tuple[int, tuple[Link, ...], tuple[tuple[int, float], ...]]
"""A network as `Elimination` is told of it: its size, links and leaks."""


class Elimination:
    """A network whose nodes are numbered from 0. `leaks` are the conductances to ground.

    Every node must reach ground through some link or leak. Raises ZeroDivisionError where one does not.
    """

    def __init__(self, count: int, links: Iterable[Link], leaks: Mapping[int, float]) -> None:
        self._beside: list[dict[int, float]] = [{} for _ in range(count)]
        self._leak = [leaks.get(node, 0.0) for node in range(count)]
        for one, other, siemens in links:
            if one != other:
                self._join(one, other, siemens)
        self._sum = [0.0] * count
        self._parts: list[list[tuple[int, float]]] = [[] for _ in range(count)]
        self._order: list[int] = []
        self._eliminate()
        self._turn = [0] * count
        for turn, node in enumerate(self._order):
            self._turn[node] = turn
        self.own = [0.0] * count
        """Each node's resistance to ground, in ohms."""
        self._shared: list[dict[int, float]] = [{} for _ in range(count)]
        self._told: tuple[tuple[int, float], ...] | None = None
        self._volts: list[float] = []
        self._go_back()

    def _join(self, one: int, other: int, siemens: float) -> None:
        self._beside[one][other] = self._beside[one].get(other, 0.0) + siemens
        self._beside[other][one] = self._beside[other].get(one, 0.0) + siemens

    def _eliminate(self) -> None:
        """Fewest neighbors first: `waiting` holds nodes by their number of neighbors, and an entry that has been
        overtaken is passed over."""
        waiting: list[list[int]] = [[]]
        self._wait(waiting, range(len(self._beside)))
        done, fewest = [False] * len(self._beside), 0
        while fewest < len(waiting):
            if not waiting[fewest]:
                fewest += 1
                continue
            node = waiting[fewest].pop()
            if not done[node] and fewest == len(self._beside[node]):
                done[node] = True
                neighbors = list(self._beside[node])
                self._take_out(node)
                fewest = min(self._wait(waiting, neighbors), fewest)

    def _wait(self, waiting: list[list[int]], nodes: Iterable[int]) -> int:
        """Puts nodes where they belong, and gives the fewest neighbors that any of them has."""
        fewest = len(waiting)
        for node in nodes:
            degree = len(self._beside[node])
            while degree >= len(waiting):
                waiting.append([])
            waiting[degree].append(node)
            fewest = min(fewest, degree)
        return fewest

    def _take_out(self, node: int) -> None:
        beside, leak = self._beside[node], self._leak[node]
        total = leak + sum(beside.values())
        parts = [(other, siemens / total) for other, siemens in beside.items()]
        self._order.append(node)
        self._sum[node], self._parts[node] = total, parts
        for index, (other, share) in enumerate(parts):
            del self._beside[other][node]
            self._leak[other] += share * leak
            for third, siemens in list(beside.items())[index + 1 :]:
                self._join(other, third, share * siemens)
        self._beside[node] = {}

    def _go_back(self) -> None:
        for node in reversed(self._order):
            parts = self._parts[node]
            shared = {other: sum(share * self._known(third, other) for third, share in parts) for other, _ in parts}
            self._shared[node] = shared
            self.own[node] = 1 / self._sum[node] + sum(share * shared[other] for other, share in parts)

    def _known(self, one: int, other: int) -> float:
        if one == other:
            return self.own[one]
        found = self._shared[one].get(other)
        return self._shared[other][one] if found is None else found

    def transfer(self, one: int, other: int) -> float:
        """The voltage at one node for each ampere put in at the other, in ohms."""
        if one == other:
            return self.own[one]
        for here, there in ((one, other), (other, one)):
            if there in self._shared[here]:
                return self._shared[here][there]
        flows = self._inwards({one: 1.0}), self._inwards({other: 1.0})
        return sum(flow * flows[1].get(node, 0.0) / self._sum[node] for node, flow in flows[0].items())

    def _inwards(self, amperes: Mapping[int, float]) -> dict[int, float]:
        """What flows into each node when currents are handed on from node to node as these were eliminated."""
        flows = dict(amperes)
        queue = list(flows)
        for node in queue:
            for other, _ in self._parts[node]:
                if other not in flows:
                    flows[other] = 0.0
                    queue.append(other)
        for node in sorted(queue, key=self._turn.__getitem__):
            for other, share in self._parts[node]:
                flows[other] += share * flows[node]
        return flows

    def voltages(self, amperes: Mapping[int, float]) -> list[float]:
        """Every node's voltage above ground while these currents flow in; what was asked last is known yet, for a spot
        is told more than once, and so are those of districts that are the same."""
        told = tuple(amperes.items())
        if told != self._told:
            self._told, self._volts = told, self._solve(amperes)
        return self._volts

    def _solve(self, amperes: Mapping[int, float]) -> list[float]:
        flows, parts, sums = self._inwards(amperes), self._parts, self._sum
        volts = [0.0] * len(self.own)
        for node in reversed(self._order):
            handed = 0.0
            for other, share in parts[node]:
                handed += share * volts[other]
            volts[node] = flows.get(node, 0.0) / sums[node] + handed
        return volts


_last: dict[Told, Elimination] = {}


def solved(networks: Mapping[int, Told], is_whole: bool = True) -> dict[int, Elimination]:
    """Each network's elimination, worked out once for those that are the same, as a district's two legs mostly are.
    Those of the last time that a whole plan was asked about are kept: one that is being typed is asked about again and
    again, and most of it is as it was."""
    global _last
    known: dict[Told, Elimination] = {}
    for told in networks.values():
        if told not in known:
            known[told] = _last.get(told) or Elimination(told[0], told[1], dict(told[2]))
    if is_whole:
        _last = known
    return {name: known[told] for name, told in networks.items()}
