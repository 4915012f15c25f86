"""Which pieces may have a place that is far from the nearest wire, told without laying a network of the layout."""

from __future__ import annotations

from collections.abc import Container, Iterable, Mapping

from railbond.circuit.wiring import Wiring
from railbond.layout.model import EndAt, Meeting, Piece
from railbond.layout.template import OTHER_SIDE

from .materials import Materials

Places = dict[int, list[float]]
"""Where wires are soldered to each conductor, in meters along its piece, in order."""
Neighbors = Mapping[str, list[str]]
"""For each piece the names of those that it meets."""


def doubtful(
    wiring: Wiring, materials: Materials, most: float, met: Neighbors, asked: Container[str] | None = None
) -> list[Piece]:
    """The pieces that may have a place further than `most` meters from a wire: segments whose own wires and those
    beyond their ends are too few, and other pieces at which no segment with wires enough begins. Only those that are
    `asked` for, unless all are."""
    every = list(wiring.pieces)
    pieces = [piece for piece in every if asked is None or piece.name in asked]
    known = None if asked is None else around(met, [piece.name for piece in pieces])
    places = _places(wiring, known)
    beside = every if known is None else [wiring.layout.pieces[name] for name in known]
    near = {piece.name for piece in beside if piece.template.length and _is_near(wiring, piece, places, most)}
    served = near.union(*(met.get(name, ()) for name in near))
    found = [piece for piece in pieces if piece.name not in (near if piece.template.length else served)]
    doubted = around(met, [piece.name for piece in found if piece.template.length])
    meetings = [one for one in wiring.layout.meetings if one.one.piece in doubted] if doubted else []
    beyond = _Beyond(wiring, materials, places, meetings)
    return [piece for piece in found if not (piece.template.length and beyond.serves(piece, most))]


def around(met: Neighbors, pieces: Iterable[str]) -> dict[str, None]:
    """The names of some pieces and of all that are no further than two joints from them: so far it is looked for wires
    beyond the ends of a piece."""
    found = dict.fromkeys(pieces)
    for _ in range(2):
        found |= dict.fromkeys(name for here in list(found) for name in met.get(here, ()))
    return found


def neighbors(wiring: Wiring) -> Neighbors:
    """What each piece meets."""
    met: dict[str, list[str]] = {}
    for (one, _), (other, _), _, _, _ in wiring.layout.meetings:
        met.setdefault(one, []).append(other)
        met.setdefault(other, []).append(one)
    return met


def _places(wiring: Wiring, pieces: Container[str] | None) -> Places:
    places, first = Places(), wiring.first
    for _, piece, metal, place, *_ in wiring.layout.drops:
        if place is not None and (pieces is None or piece in pieces):
            places.setdefault(first[piece] + metal, []).append(place)
    for own in places.values():
        own.sort()
    return places


def _is_near(wiring: Wiring, piece: Piece, places: Places, most: float) -> bool:
    """Whether each rail of a segment has wires enough of its own."""
    for conductor, (_, _, start, stop) in enumerate(piece.template.metals, wiring.first[piece.name]):
        own = places.get(conductor)
        if not own or own[0] - start > most or stop - own[-1] > most or _is_wide(own, most):
            return False
    return True


def _is_wide(own: list[float], most: float) -> bool:
    return len(own) > 1 and any(other - one > 2 * most for one, other in zip(own, own[1:], strict=False))


class _Beyond:
    """The wires of segments beyond the ends of a segment: right there, or with one other piece in between."""

    def __init__(self, wiring: Wiring, materials: Materials, places: Places, meetings: Iterable[Meeting]) -> None:
        self.wiring, self.materials, self.places = wiring, materials, places
        self.across: dict[tuple[EndAt, str], tuple[EndAt, str]] = {}
        for meeting in meetings:
            for side, other in OTHER_SIDE.items():
                if side not in meeting.gaps:
                    here, there = (meeting.one, side), (meeting.other, other)
                    self.across[here], self.across[there] = there, here

    def serves(self, piece: Piece, most: float) -> bool:
        """Whether such wires bring every place of a segment near enough."""
        for index, metal in enumerate(piece.template.metals):
            own = self.places.get(self.wiring.metal(piece.name, index))
            if not own or _is_wide(own, most):
                return False
            for end, far in (("start", own[0] - metal.start), ("finish", metal.stop - own[-1])):
                if far > most and (far + self._from_end(piece, end, index)) / 2 > most:
                    return False
        return True

    def _from_end(self, piece: Piece, end: str, metal: int) -> float:
        """Meters from the end of a rail to the nearest wire beyond it, or without end."""
        at = EndAt(piece.name, end)
        sides = [side for side in ("left", "right") if piece.template.ends[end].side(side) == metal]
        there = self.across.get((at, sides[0])) if sides else None
        if there is None:
            return float("inf")
        beyond = self.wiring.layout.pieces[there[0].piece]
        if beyond.template.length:
            return self._to_wire(*there)
        return 2 * self.materials.half_length(beyond) + min(
            (self._to_wire(*far) for far in self._out_of(beyond, there)), default=float("inf")
        )

    def _out_of(self, piece: Piece, entered: tuple[EndAt, str]) -> list[tuple[EndAt, str]]:
        """What lies across the other ends of the metal by which a piece was entered, and of all that is one with it."""
        one = {piece.template.ends[entered[0].end].side(entered[1])}
        for _ in piece.template.ties:
            one |= {metal for tie in piece.template.ties if tie.when is None and one & {tie.one, tie.other}
                    for metal in (tie.one, tie.other)}  # fmt: skip
        ends = [(EndAt(piece.name, name), side) for name in piece.template.ends for side in ("left", "right")]
        inside = (end for end in ends if piece.template.ends[end[0].end].side(end[1]) in one)
        return [self.across[end] for end in inside if end in self.across and end != entered]

    def _to_wire(self, at: EndAt, side: str) -> float:
        """Meters from the end of a segment's rail to the nearest wire of its own."""
        piece, conductor = self.wiring.layout.pieces[at.piece], self.wiring.rail(at, side)
        own = self.places.get(conductor)
        if not own or not piece.template.length:
            return float("inf")
        metal = piece.template.metals[self.wiring.end(at).side(side)]
        return metal.stop - own[-1] if self.wiring.end(at).leaves else own[0] - metal.start
