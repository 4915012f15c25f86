"""The bonds that wires make, line by line."""

from __future__ import annotations

from collections.abc import Iterator

from railbond.layout.model import Drop, FrogFeed, Run
from trackplan.record import new

from .graph import Bond
from .wiring import Wiring, contacts, stock_contacts


def run_bonds(wiring: Wiring, run: Run) -> Iterator[Bond]:
    """Those of a bus run, leg by leg."""
    source, terminal, crossed, statement = run
    one, other = wiring.wires[source], wiring.wires[terminal]
    for leg in (0, 1):
        yield new(Bond, (one + leg, other + (1 - leg if crossed else leg), None, "wire", statement.at))


def drop_bonds(wiring: Wiring, drop: Drop) -> list[Bond]:
    """That of a drop; of one behind contacts, as many as there are positions in which they close."""
    (name, leg), piece, metal, _, statement, when = drop
    one, other, at = wiring.wires[name] + leg, wiring.first[piece] + metal, statement.at
    if not when:
        return [new(Bond, (one, other, None, "wire", at))]
    mover, positions = when
    return [Bond(one, other, wiring.literal(mover, position), "contact", at) for position in positions]


def contact_bonds(wiring: Wiring, feed: FrogFeed) -> Iterator[Bond]:
    """Those of a frog's contacts, and of one that hangs on the piece's own rails."""
    piece = wiring.layout.pieces[feed.piece]
    for frog in wiring.layout.fed_frogs(feed):
        metal = wiring.metal(piece.name, frog.metal)
        if feed.kind == "stock rails":
            rails = stock_contacts(piece, frog).items()
            reach = [(wiring.literal(piece.name, at), wiring.metal(piece.name, rail)) for at, rail in rails]
        else:
            reach = [(literal, wiring.wire(wire)) for literal, wire in contacts(wiring, feed, frog)]
        for literal, conductor in reach:
            yield new(Bond, (conductor, metal, literal, "contact", feed.statement.at))
