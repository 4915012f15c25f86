"""A network told from that of the plan before it was changed in the head, or of one supply alone, region by region.

Effort is counted as if the whole were worked out, so that no budget hangs on what was known.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from functools import cached_property

from railbond.circuit.effort import spend
from railbond.circuit.proof import Proof
from railbond.circuit.wiring import Wiring

from .lay import lay
from .network import Network
from .region import PowerRegion, Regions, is_same_metal
from .solved import RESISTORS, SPOTS, SolvedNetwork
from .spots import Spot
from .told import NetworkSize


def within(power: SolvedNetwork, supply: str) -> SolvedNetwork:
    """The network of a supply's region alone, where that is the lesser part of the plan's: its worst spots are those of
    the whole, and what is changed in it counts as if it were changed in the whole."""
    region = power.regions.of_supply(supply)
    if not power.homes and 2 * len(region.pieces) > len(power.layout.pieces):
        return power
    part = _solved(power, region)
    part.beyond = power.size.less(part.size)
    return part


def _solved(power: SolvedNetwork, region: PowerRegion) -> SolvedNetwork:
    """A region by itself, which counts as known."""
    part = SolvedNetwork(region.wiring(power.wiring), power.proof)
    part.unknown, part.guards, part.is_counted = power.unknown, power.guards, True
    return part


class RevisedNetwork(SolvedNetwork):
    """The network of a plan that was changed in the head: the spots of unchanged regions are as they were before."""

    def __init__(self, wiring: Wiring, proof: Proof, earlier: SolvedNetwork) -> None:
        super().__init__(wiring, proof)
        self.earlier: SolvedNetwork | None = earlier

    @cached_property
    def spots(self) -> list[Spot]:
        """The worst spot of each piece for each supply of which all wires are known."""
        known, self.earlier = self.earlier, None
        retold = self._retold(known) if known and _is_comparable(known, self) else None
        return super().spots if retold is None else retold

    def may_exceed(self, limits: Mapping[str, float]) -> bool:
        """No more need be known where some supply's bound did before, and its region is as it was."""
        known = self.earlier
        if known and not self.unknown.issuperset(limits) and _is_comparable(known, self):
            old, new, bounds = known.regions, self._regions_beside(known), vars(known).get("bounds") or {}
            over = (name for name, ohms in limits.items() if bounds.get(name, 0.0) > ohms)
            if any(old.of_supply(name) == new.of_supply(name) for name in over):
                return True
        return super().may_exceed(limits)

    def _regions_beside(self, known: SolvedNetwork) -> Regions:
        """The regions, by those of a plan of the same metal."""
        if "regions" not in vars(self):
            self.regions = Regions(self.wiring, known.regions)
        return self.regions

    def _retold(self, known: SolvedNetwork) -> list[Spot] | None:
        """None where most of the plan is other."""
        old, new = known.regions.all, self._regions_beside(known).all
        fresh = [one for number, one in new.items() if old.get(number) != one]
        if 2 * sum(len(one.pieces) for one in fresh) > len(self.layout.pieces):
            return None
        parts = [_solved(self, one) for one in fresh]
        gone = [lay(one.wiring(known.wiring)) for number, one in old.items() if new.get(number) != one]
        self._count(known.size, gone, parts)
        changed = {name: part for part in parts for name in part.layout.pieces}
        self.homes = {name: changed.get(name) or known.homes.get(name, known) for name in self.layout.pieces}
        spots = _by_piece(known.spots) | {name: [] for name in changed}
        spots |= _by_piece(spot for part in parts for spot in part.spots)
        return [spot for name in self.layout.pieces for spot in spots.get(name, ())]

    def _count(self, size: NetworkSize, gone: list[Network], come: list[SolvedNetwork]) -> None:
        for network in gone:
            size = size.less(NetworkSize(len(network.resistors), network.size))
        for part in come:
            size = size.more(part.size)
        self.size = size._replace(pieces=len(self.layout.pieces))
        spend(size.resistors / RESISTORS)
        spend(size.nodes / SPOTS)


def _is_comparable(known: SolvedNetwork, power: SolvedNetwork) -> bool:
    return (
        "spots" in vars(known)
        and not power.unknown.issuperset(power.layout.supplies)
        and known.unknown == power.unknown
        and known.proof.budget == power.proof.budget
        and is_same_metal(known.wiring, power.wiring)
    )


def _by_piece(spots: Iterable[Spot]) -> dict[str, list[Spot]]:
    found: dict[str, list[Spot]] = {}
    for spot in spots:
        found.setdefault(spot.piece, []).append(spot)
    return found
