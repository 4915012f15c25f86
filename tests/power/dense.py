"""A second opinion on resistances: a whole matrix, inverted by NumPy, for one setting of all the points at a time."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import product

import numpy as np

from railbond.circuit.graph import Setting, SupplyLeg
from railbond.circuit.power.network import Network, Rail


class Dense:
    """A network with the ties of one setting; what no supply's leg reaches has no resistance to it.

    `beyond`: only ties that lead beyond what always hangs together with a supply.
    """

    def __init__(self, network: Network, setting: Setting, contact: float, beyond: bool = False) -> None:
        self.network = network
        links = [(one.one, one.other, one.ohms) for one in network.resistors]
        always = self._legs(links)
        ties = [tie for tie in network.ties if tie.when in setting]
        ties = [tie for tie in ties if not (beyond and always[tie.one] and always[tie.other])]
        links += [(tie.one, tie.other, contact) for tie in ties]
        self.legs = self._legs(links)
        self.live = [node for node, legs in enumerate(self.legs) if legs]
        matrix = np.zeros((network.size, network.size))
        for one, other, ohms in links:
            matrix[one, one] += 1 / ohms
            matrix[other, other] += 1 / ohms
            matrix[one, other] -= 1 / ohms
            matrix[other, one] -= 1 / ohms
        grounds = set(network.roots.values())
        self.inner = [node for node in self.live if node not in grounds]
        self.inverse = np.zeros_like(matrix)
        if self.inner:
            grid = np.ix_(self.inner, self.inner)
            self.inverse[grid] = np.linalg.inv(matrix[grid])

    def _legs(self, links: list[tuple[int, int, float]]) -> list[set[int]]:
        """The supply legs (by conductor) that each node hangs together with, spread until nothing changes."""
        legs: list[set[int]] = [set() for _ in range(self.network.size)]
        for conductor, node in self.network.roots.items():
            legs[node].add(conductor)
        changed = True
        while changed:
            changed = False
            for one, other, _ in links:
                if legs[one] != legs[other]:
                    legs[one] = legs[other] = legs[one] | legs[other]
                    changed = True
        return legs

    def source(self, node: int) -> SupplyLeg | None:
        """The one leg that a node hangs together with."""
        legs = self.legs[node]
        return self.network.wiring.graph.sources[next(iter(legs))] if len(legs) == 1 else None

    def opposed(self, one: int, other: int) -> bool:
        """Whether two nodes carry the two legs of one supply."""
        here, there = self.source(one), self.source(other)
        return here is not None and there is not None and (here.supply, here.leg) == (there.supply, 1 - there.leg)

    def at(self, rail: Rail, meters: float) -> float:
        """Ohms from a point of a rail to its supply: the two parts of the rail as resistors of their own."""
        share = (meters - rail.start) / (rail.stop - rail.start) if rail.stop > rail.start else 0.0
        drawn = np.zeros(self.network.size)
        drawn[rail.one] += 1 - share
        drawn[rail.other] += share
        return float(drawn @ self.inverse @ drawn + rail.ohms * share * (1 - share))


def every_setting(network: Network) -> Iterator[Setting]:
    """Every setting of all the switches."""
    positions = network.wiring.graph.positions
    for picked in product(*positions.values()):
        yield frozenset(zip(positions, picked, strict=True))
