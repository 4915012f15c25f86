"""The least copper that brings every place of a supply below a resistance: thicker wires, or more drops.

Each step looks at the worst spot. What a thicker wire or one more drop does for it follows from the voltages of a
single ampere drawn there (the change of one conductance: Sherman and Morrison 1950, from memory); the cheapest that
is enough is made, else the one that does most, and the network is solved anew.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from railbond.layout.model import Drop, Wire
from trackplan.quantities import Length, WireSize
from trackplan.span import Word
from trackplan.statements import Bus, Feeder

from .chain import Loss, Way, chain
from .copper import SHORT, enough, is_short, thicker
from .network import Resistor
from .power import Power
from .spots import Spot
from .wires import Changes, Statement

MOST_STEPS = 12
LARGE = 20_000
"""Nodes beyond which two steps must do: each solves the whole network."""
APART = 0.05
"""Metres that a new drop keeps from the ends of a rail and from what is soldered to it."""


class Option(NamedTuple):
    """Changes, the copper that they take (mm² times m) and the ohms that they take off a spot."""

    changes: Changes
    copper: float
    gain: float


def cure(power: Power, supply: str, most: float, more_drops: bool = True) -> Changes | None:
    """Changes after which no spot of a supply has more than `most` ohms; None where none are found."""
    for _ in range(MOST_STEPS if power.network.size < LARGE else 2):
        spot = power.worst.get(supply)
        if spot is None or spot.ohms <= most:
            return power.changes
        options = list(_Spot(power, spot).options(more_drops))
        enough = [one for one in options if spot.ohms - one.gain <= most]
        if not options:
            return None
        best = min(enough, key=lambda one: one.copper) if enough else max(options, key=lambda one: one.gain)
        power = power.changed(_both(power.changes, best.changes))
    spot = power.worst.get(supply)
    return power.changes if spot and spot.ohms <= most else None


def _both(one: Changes, other: Changes) -> Changes:
    return Changes({**one.sizes, **other.sizes}, (*one.drops, *other.drops))


class _Spot:
    """What may be done for one spot."""

    def __init__(self, power: Power, spot: Spot) -> None:
        self.power, self.spot = power, spot
        self.frame = power.frame
        self.losses = chain(power.frame, power.islands, spot)
        self.volts = [Way(power.frame, power.islands, side, spot.metres).volts for side in spot.sides]

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
        for size in thicker(thinnest, short):
            changed = {wire: size for wire in wires if sized[wire][0] < size}
            gain = sum(self._gain(wire, size) for wire in changed)
            copper = sum(2 * float(size) * sized[wire][1] for wire in changed)
            yield Option(Changes(changed), copper, gain)

    def _gain(self, wire: Statement, size: WireSize) -> float:
        """Ohms that a wire of another size takes off the spot."""
        return sum(self._gain_at(one, self._size(wire)[0] / size) for one in self._resistors(wire))

    def _resistors(self, wire: Statement) -> list[Resistor]:
        return [one for one in self.power.network.resistors if one.wire is wire]

    def _gain_at(self, one: Resistor, ratio: float) -> float:
        """Ohms taken off the spot when a resistor falls to that share of what it is."""
        if self.frame.source_at(one.one) is None:
            return 0.0
        more = (1 / ratio - 1) / one.ohms
        across = self.frame.own(one.one) + self.frame.own(one.other) - 2 * self.frame.transfer(one.one, one.other)
        drops = [volts.get(one.one, 0.0) - volts.get(one.other, 0.0) for volts in self.volts]
        return sum(more * drop**2 for drop in drops) / (1 + more * across)

    def _drops(self, wires: list[Loss]) -> Iterator[Option]:
        """One more pair of drops at the spot, from the terminal that the nearest one comes from."""
        feeders = [loss.wire for loss in wires if isinstance(loss.wire, Feeder)]
        place = self._solderable()
        if not feeders or place is None:
            return
        old = next(drop for drop in self.power.network_drops() if drop.statement == feeders[-1])
        size, length = self._size(feeders[-1])
        length = -(-(length + self._rail_metres()) * 10 // 1) / 10
        guard, short = self.power.guards.get(self.spot.supply), length <= SHORT
        least = enough(size, short, float(guard.passes) if guard else 0.0)
        for one in (least, *thicker(least, short)):
            drops = self._pair(old.wire.name, *place, one, length)
            if drops:
                yield Option(Changes({}, drops), 2 * float(one) * length, self._drop_gain(drops))

    def _rail_metres(self) -> float:
        """Metres of track between the nearest drop and the spot, by what they lose."""
        each = 2 * self.power.network.materials.rail(self.power.layout.pieces[self.spot.piece])
        kinds = [loss.kind for loss in self.losses]
        last = max((place for place, kind in enumerate(kinds) if kind == "wire"), default=-1)
        return sum(loss.ohms for loss in self.losses[last + 1 :] if loss.kind == "rail") / each

    def _solderable(self) -> tuple[str, float] | None:
        """The segment and place nearest to the spot where a drop can be soldered."""
        layout, piece = self.power.layout, self.spot.piece
        metres: float | None = self.spot.metres
        if self.spot.end:
            beyond = [m for m in layout.meetings if (piece, self.spot.end) in (m.one, m.other)]
            for meeting in beyond:
                at = meeting.other if meeting.one == (piece, self.spot.end) else meeting.one
                piece, metres = at.piece, 0.0 if not self.power.wiring.end(at).leaves else None
        metals = layout.pieces[piece].template.metals
        stop = max(metal.stop for metal in metals)
        metres = round(min(max(stop if metres is None else metres, APART), stop - APART), 2)
        taken = [drop.place for drop in self.power.network_drops() if drop.piece == piece]
        taken += [edge for metal in metals for edge in (metal.start, metal.stop) if 0 < edge < stop]
        free = stop > 2 * APART and all(abs(metres - one) >= APART for one in taken if one is not None)
        return (piece, metres) if free else None

    def _pair(
        self, wire: str, piece: str, metres: float, size: WireSize, length: float
    ) -> tuple[tuple[Drop, WireSize, float], ...]:
        """A drop from each leg to the rail of its own polarity; nothing where the rails are not that supply's."""
        wiring, network = self.power.wiring, self.power.network
        legs = {self.frame.source_at(network.wire(Wire(wire, leg))): leg for leg in (0, 1)}
        drops = []
        for index, metal in enumerate(self.power.layout.pieces[piece].template.metals):
            if metal.start < metres < metal.stop:
                source = self.frame.source_at(network.rails[wiring.metal(piece, index)][0].one)
                if source is None or source not in legs:
                    return ()
                feeder = self._feeder(wire, piece, metres, size, length)
                drops.append((Drop(Wire(wire, legs[source]), piece, index, metres, feeder), size, length))
        return tuple(drops)

    def _feeder(self, wire: str, piece: str, metres: float, size: WireSize, length: float) -> Feeder:
        at = self.power.layout.pieces[piece].statement.at
        return Feeder(at, Word(wire), Word(piece), Length(metres), size, Length(length), None)

    def _drop_gain(self, drops: tuple[tuple[Drop, WireSize, float], ...]) -> float:
        gain = 0.0
        for drop, size, length in drops:
            node, ohms = self.power.network.wire(drop.wire), self.power.network.materials.wire(size, length)
            for side, volts in zip(self.spot.sides, self.volts, strict=True):
                if self.frame.source_at(node) == side.reach.source:
                    here = volts.get(node, 0.0)
                    own = Way(self.frame, self.power.islands, side, self.spot.metres).here
                    gain += (own - here) ** 2 / (own + self.frame.own(node) - 2 * here + ohms)
        return gain
