"""The least copper that brings every place of a supply below a resistance: thicker wires, or more drops.

Each step looks at the worst spot. What a thicker wire or one more drop does for it follows from the voltages of a
single ampere drawn there (the change of one conductance: Sherman and Morrison 1950, from memory); the cheapest that
is enough is made, else the one that does most, and the network is solved anew.
"""

from __future__ import annotations

from collections.abc import Iterator

from railbond.circuit.effort import Budget
from trackplan.quantities import WireSize
from trackplan.record import NamedTuple
from trackplan.statements import Bus, Feeder

from .by_region import within
from .chain import Loss, ReturnPath, chain
from .copper import SHORT, enough, is_short, solderable, thicker
from .network import Resistor
from .soldering import NewDrop, Soldering
from .solved import SolvedNetwork
from .spots import Spot
from .wires import Changes, Statement

MOST_STEPS = 12
MOST_TRIED = 8
"""Options that are solved for all spots of the supply, the least copper first, in each step."""
LARGE = 20_000
"""Nodes beyond which two steps must do: each solves the whole network."""


class Option(NamedTuple):
    """Changes, the copper that they take (mm² times m) and the ohms that they take off a spot."""

    changes: Changes
    copper: float
    gain: float


def least_copper(
    power: SolvedNetwork, supply: str, most: float, more_drops: bool = True, budget: Budget | None = None
) -> Changes | None:
    """Changes after which no spot of a supply has more than `most` ohms; None where none are found, or where the budget
    ends before."""
    steps, tries = (MOST_STEPS, MOST_TRIED) if power.size.nodes < LARGE else (2, 2)
    power = within(power, supply)
    for _ in range(steps):
        if budget is not None and budget.left <= 0:
            return None
        spot = power.worst.get(supply)
        if spot is None or spot.ohms <= most:
            return power.changes
        options = list(_Spot(power, spot).options(more_drops))
        enough = sorted((one for one in options if spot.ohms - one.gain <= most), key=lambda one: one.copper)
        if not options:
            return None
        tried = [power.changed(_both(power.changes, one.changes), supply) for one in enough[:tries]]
        whole = (one for one in tried if one.worst[supply].ohms <= most)
        best = max(options, key=lambda one: one.gain)
        power = next(whole, None) or min(
            tried or [power.changed(_both(power.changes, best.changes), supply)],
            key=lambda one: _excess(one, supply, most),
        )
    return power.changes if power.worst[supply].ohms <= most else None


def _excess(power: SolvedNetwork, supply: str, most: float) -> float:
    """By how much all spots together have more than `most`."""
    return sum(max(spot.ohms - most, 0.0) for spot in power.spots_of[supply])


def _both(one: Changes, other: Changes) -> Changes:
    return Changes({**one.sizes, **other.sizes}, (*one.drops, *other.drops))


class _Spot:
    """What may be done for one spot."""

    def __init__(self, power: SolvedNetwork, spot: Spot) -> None:
        self.power, self.spot = power, spot
        self.frame = power.frame
        self.losses = chain(power.frame, power.islands, spot)
        self.ways = [ReturnPath(power.frame, power.islands, side, spot.meters) for side in spot.sides]

    def options(self, more_drops: bool) -> Iterator[Option]:
        wires = [loss for loss in self.losses if loss.wire is not None]
        for loss in wires:
            yield from self._thicker([loss])
        runs = [loss for loss in wires if isinstance(loss.wire, Bus)]
        if len(runs) > 1:
            yield from self._thicker(runs)
        if more_drops:
            yield from self._drops(wires)

    def _size(self, wire: Statement) -> tuple[WireSize, float]:
        size, length = self.power.wire_of(wire)
        assert size is not None and length is not None, "what is not sized is not worked out"
        return self.power.changes.sizes.get(wire, size), float(length)

    def _thicker(self, losses: list[Loss]) -> Iterator[Option]:
        """The wires of some losses, all in one thicker size."""
        wires = [loss.wire for loss in losses if loss.wire is not None]
        sized = {wire: self._size(wire) for wire in wires}
        thinnest = min((size for size, _ in sized.values()), key=float)
        short = all(is_short(wire, length) for wire, (_, length) in sized.items())
        sizes = thicker(thinnest, short)
        for size in solderable(sizes) if any(isinstance(wire, Feeder) for wire in wires) else sizes:
            changed = {wire: size for wire in wires if sized[wire][0] < size}
            gain = sum(self._gain(wire, size) for wire in changed)
            copper = sum(2 * float(size) * sized[wire][1] for wire in changed)
            yield Option(Changes(changed), copper, gain)

    def _gain(self, wire: Statement, size: WireSize) -> float:
        """Ohms that a wire of another size takes off the spot."""
        return sum(self._gain_at(one, self._size(wire)[0] / size) for one in self.power.resistors_of.get(wire, ()))

    def _gain_at(self, one: Resistor, ratio: float) -> float:
        """Ohms taken off the spot when a resistor falls to that share of what it is."""
        if self.frame.sources_at(one.one) is None:
            return 0.0
        more = (1 / ratio - 1) / one.ohms
        across = self.frame.own(one.one) + self.frame.own(one.other) - 2 * self.frame.transfer(one.one, one.other)
        drops = [volts.get(one.one, 0.0) - volts.get(one.other, 0.0) for volts in (way.volts for way in self.ways)]
        return sum(more * drop**2 for drop in drops) / (1 + more * across)

    def _drops(self, wires: list[Loss]) -> Iterator[Option]:
        """One more pair of drops near the spot, from the terminal that the nearest one comes from."""
        feeders = [loss.wire for loss in wires if isinstance(loss.wire, Feeder)]
        if not feeders:
            return
        old = next(drop for drop in self.power.network_drops() if drop.statement == feeders[-1])
        size, length = self._size(feeders[-1])
        length = -(-(length + self._rail_meters()) * 10 // 1) / 10
        guard, short = self.power.guards.get(self.spot.supply), length <= SHORT
        least = enough(size, short, float(guard.passes) if guard else 0.0)
        new = Soldering(self.power, old.wire.name)
        for rails in new.places(self.spot):
            for one in solderable((least, *thicker(least, short))):
                drops = new.drops(rails, one, length)
                if drops:
                    copper = len(drops) * float(one) * length
                    yield Option(Changes({}, drops), copper, self._drop_gain(drops))

    def _rail_meters(self) -> float:
        """Meters of track between the nearest drop and the spot, by what they lose."""
        each = 2 * self.power.network.materials.rail(self.power.layout.pieces[self.spot.piece])
        kinds = [loss.kind for loss in self.losses]
        last = max((place for place, kind in enumerate(kinds) if kind == "wire"), default=-1)
        return sum(loss.ohms for loss in self.losses[last + 1 :] if loss.kind == "rail") / each

    def _drop_gain(self, drops: tuple[NewDrop, ...]) -> float:
        """Ohms that new drops take off the spot, as if they were soldered right there."""
        gain = 0.0
        for drop, size, length in drops:
            node, ohms = self.power.network.wire(drop.wire), self.power.network.materials.wire(size, length)
            for way, side in zip(self.ways, self.spot.sides, strict=True):
                if self.frame.sources_at(node) == side.reach.sources:
                    here = way.volts.get(node, 0.0)
                    gain += (way.here - here) ** 2 / (way.here + self.frame.own(node) - 2 * here + ohms)
        return gain
