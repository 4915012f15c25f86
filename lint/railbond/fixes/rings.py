"""Where to split the ring of a turntable, so that its bridge suits the tracks that it comes to."""

from __future__ import annotations

from collections.abc import Iterator

from railbond.circuit.facts import Facts
from railbond.layout.model import Piece
from trackplan.record import NamedTuple


class Ring(NamedTuple):
    """A split ring: the angle of its split, whether its wires are crossed, how many tracks it does not suit, and the
    degrees between the tracks on both sides of the split."""

    angle: float
    crossed: bool
    unsuited: int
    room: float


def best_ring(facts: Facts, piece: Piece) -> Ring | None:
    """The split ring that suits the polarity of the most tracks, and of such the one with the most room; None for a
    bridge that is never turned."""
    headings = sorted({heading % 180 for heading in piece.template.headings.values()})
    if not headings:
        return None
    sides = list(zip(headings, [*headings[1:], headings[0] + 180], strict=True))
    wants = list(_wants(facts, piece))
    rings = [
        Ring(middle, crossed, sum(_first_half(at, middle) == (leg != crossed) for at, leg in wants), other - one)
        for one, other in sides
        for middle in [round((one + other) / 2, 1)]
        for crossed in (False, True)
    ]
    return min(rings, key=lambda ring: (ring.unsuited, -ring.room))


def _first_half(heading: float, split: float) -> bool:
    return (heading - split) % 360 < 180


def _wants(facts: Facts, piece: Piece) -> Iterator[tuple[float, bool]]:
    """The heading of each track whose polarity is known, and whether its left rail carries the second leg."""
    for name, end in piece.template.ends.items():
        ways = facts.proof.reachable(facts.wiring.metal(piece.name, end.left))
        legs = {way.source.leg for way in ways if way.source.kind == "fixed"}
        if len(legs) == 1:
            yield piece.template.headings[name], legs == {1}
