"""The bonds that wires make, line by line."""

from __future__ import annotations

from collections.abc import Iterator

from railbond.layout.model import Drop, FrogFeed, Run, Wire

from .graph import Bond
from .wiring import Wiring, contacts, stock_contacts


def run_bonds(wiring: Wiring, run: Run) -> Iterator[Bond]:
    """Those of a bus run, leg by leg."""
    for leg in (0, 1):
        far = Wire(run.terminal, 1 - leg if run.crossed else leg)
        both = wiring.wire(Wire(run.source, leg)), wiring.wire(far)
        yield Bond(*both, None, "wire", run.statement.at)


def drop_bonds(wiring: Wiring, drop: Drop) -> Iterator[Bond]:
    """That of a drop; of one behind contacts, as many as there are positions in which they close."""
    ends = wiring.wire(drop.wire), wiring.metal(drop.piece, drop.metal)
    mover, positions = drop.when or ("", ())
    whens = [wiring.literal(mover, position) for position in positions] if drop.when else [None]
    kind = "contact" if drop.when else "wire"
    return (Bond(*ends, when, kind, drop.statement.at) for when in whens)


def contact_bonds(wiring: Wiring, feed: FrogFeed) -> Iterator[Bond]:
    """Those of a frog's contacts, and of one that hangs on the piece's own rails."""
    piece = wiring.layout.pieces[feed.piece]
    for frog in wiring.layout.fed_frogs(feed):
        metal = wiring.metal(piece.name, frog.metal)
        reach = [(literal, wiring.wire(wire)) for literal, wire in contacts(wiring, feed, frog)]
        if feed.kind == "stock rails":
            rails = stock_contacts(piece, frog).items()
            reach = [(wiring.literal(piece.name, at), wiring.metal(piece.name, rail)) for at, rail in rails]
        for literal, conductor in reach:
            yield Bond(conductor, metal, literal, "contact", feed.statement.at)
