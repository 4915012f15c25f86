"""The left and the right rail of each place at which a train can be."""

from __future__ import annotations

from collections.abc import Iterator

from railbond.layout.model import Piece
from railbond.layout.template import Template
from trackplan.record import NamedTuple

from .wiring import Wiring

Pair = tuple[int, int]


class Place(NamedTuple):
    """A pair of rails, and the piece that it is part of."""

    piece: str
    pair: Pair


def pairs(wiring: Wiring, piece: Piece) -> Iterator[Pair]:
    """The pairs of a piece."""
    first = wiring.first[piece.name]
    return ((first + left, first + right) for left, right in pairs_of(piece.template))


def pairs_of(template: Template) -> Iterator[Pair]:
    """At each end of a piece, behind each cut within it, and of a table's bridge, as metals of its template: left and
    right as seen along the looking direction."""
    ends = ((end.left, end.right) if end.leaves else (end.right, end.left) for end in template.ends.values())
    bridge = (template.bridge,) if template.bridge else ()
    yield from (*ends, *(link.rails_other for link in template.links), *bridge)
