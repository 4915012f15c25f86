"""Where one more pair of drops can be soldered near a spot, and to which rail each of its wires goes."""

from __future__ import annotations

from collections.abc import Iterator

from railbond.layout.model import Drop, EndAt, Piece, Wire
from railbond.layout.template import rail_names
from trackplan.quantities import Length, WireSize
from trackplan.span import Word
from trackplan.statements import Feeder

from .network import is_long
from .solved import SolvedNetwork
from .spots import Spot

APART = 0.05
"""Meters that a new drop keeps from the ends of a rail and from what is soldered to it."""

Target = tuple[Piece, int, float | None]
"""A metal of a piece, and meters along it (None: a piece without a length)."""

NewDrop = tuple[Drop, WireSize, float]


class Soldering:
    """New drops from one terminal."""

    def __init__(self, power: SolvedNetwork, wire: str) -> None:
        self.power = power
        self.wire = wire
        nodes = {leg: power.network.wire(Wire(wire, leg)) for leg in (0, 1)}
        self.legs = {power.frame.sources_at(node): leg for leg, node in nodes.items()}

    def places(self, spot: Spot) -> Iterator[list[Target]]:
        """The two rails at a spot, where the language has names for them, and those of the segments beside it."""
        piece = self.power.layout.pieces[spot.piece]
        if not spot.end:
            yield from self._along(piece, spot.meters)
            return
        first = self.power.wiring.first[piece.name]
        metals = [side.conductor - first for side in spot.sides]
        taken = {drop.metal for drop in self.power.network_drops() if drop.piece == piece.name}
        if set(metals) <= set(rail_names(piece.template).values()) - taken:
            yield [(piece, metal, None) for metal in metals]
        for meeting in self.power.layout.meetings:
            for here, there in ((meeting.one, meeting.other), (meeting.other, meeting.one)):
                if here.piece == piece.name:
                    yield from self._at_end(there)

    def _at_end(self, at: EndAt) -> Iterator[list[Target]]:
        piece = self.power.layout.pieces[at.piece]
        if any(map(is_long, piece.template.metals)):
            yield from self._along(piece, _length(piece) if self.power.wiring.end(at).leaves else 0.0)

    def _along(self, piece: Piece, meters: float) -> Iterator[list[Target]]:
        """Both rails of a segment at a place, or as near to it as there is room."""
        length = _length(piece)
        meters = round(min(max(meters, APART), length - APART), 2)
        taken = [drop.place for drop in self.power.network_drops() if drop.piece == piece.name]
        cuts = [edge for metal in piece.template.metals for edge in (metal.start, metal.stop) if 0 < edge < length]
        if length > 2 * APART and all(abs(meters - one) >= APART for one in (*taken, *cuts) if one is not None):
            metals = enumerate(piece.template.metals)
            yield [(piece, index, meters) for index, metal in metals if metal.start < meters < metal.stop]

    def drops(self, targets: list[Target], size: WireSize, length: float) -> tuple[NewDrop, ...]:
        """A drop to each rail, from the leg that it carries; nothing where a rail is not that supply's."""
        legs = [self.legs.get(self.power.frame.sources_at(self._node(target))) for target in targets]
        if any(leg is None for leg in legs) or len(set(legs)) < len(targets):
            return ()
        found = []
        for (piece, metal, place), leg in zip(targets, legs, strict=True):
            pair = self._pair(piece, place, legs[0] != 0, size, length) if place is not None else None
            feeder = pair or self._single((piece, metal, place), leg, size, length)
            found.append((Drop(Wire(self.wire, leg or 0), piece.name, metal, place, feeder), size, length))
        return tuple(found)

    def _pair(self, piece: Piece, place: float, crossed: bool, size: WireSize, length: float) -> Feeder:
        words = Word(self.wire), Word(piece.name), Length(place), size, Length(length)
        return Feeder(piece.statement.at, *words, Word("crossed") if crossed else None)

    def _single(self, target: Target, leg: int | None, size: WireSize, length: float) -> Feeder:
        """One wire to one rail of a piece without a length."""
        piece, metal, _ = target
        name = next(name for name, index in rail_names(piece.template).items() if index == metal)
        legs = self.power.layout.legs_of(self.wire)
        supply, rail = Word(f"{self.wire}.{legs[leg or 0]}"), Word(f"{piece.name}.{name}")
        return Feeder(piece.statement.at, supply, rail, None, size, Length(length), None)

    def _node(self, target: Target) -> int:
        piece, metal, place = target
        conductor = self.power.wiring.metal(piece.name, metal)
        rails = self.power.network.rails.get(conductor)
        if rails is None or place is None:
            return self.power.network.middle(conductor)
        return next(rail.one for rail in rails if rail.start <= place <= rail.stop)


def _length(piece: Piece) -> float:
    return max(metal.stop for metal in piece.template.metals)
