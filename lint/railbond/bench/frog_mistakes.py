"""What may go wrong with frogs' contacts and units, common rails and toggles."""

from __future__ import annotations

from collections.abc import Iterator

from railbond.circuit.graph import Bond
from railbond.circuit.wiring import contacts
from railbond.layout.model import FrogFeed, Piece

from .bonds import Bonds
from .mistake import Mistake

UNIT = "an automatic frog unit is no path for a meter: run an engine over the frog, and see that the unit is lit"


def frog_mistakes(bonds: Bonds) -> Iterator[Mistake]:
    """Contacts swapped, a wire of theirs missing or from another supply, a frog without its wire."""
    for feed in bonds.wiring.layout.frogs.values():
        piece = bonds.wiring.layout.pieces[feed.piece]
        numbers = _numbers(bonds, piece, feed)
        if feed.kind == "automatic":
            yield from _unit(bonds, piece, feed, numbers)
        elif numbers:
            yield _swapped(bonds, piece, feed, numbers)
            yield from _missing(bonds, piece, feed, numbers)
            yield from _elsewhere(bonds, piece, feed, numbers)


def _numbers(bonds: Bonds, piece: Piece, feed: FrogFeed) -> tuple[int, ...]:
    """The bonds by which a piece's frogs are fed."""
    metals = {bonds.wiring.metal(piece.name, frog.metal) for frog in piece.template.frogs}
    return tuple(
        number
        for number, bond in enumerate(bonds.graph.bonds)
        if bond.at == feed.statement.at and bond.kind in ("contact", "wire") and bond.other in metals
    )


def _swapped(bonds: Bonds, piece: Piece, feed: FrogFeed, numbers: tuple[int, ...]) -> Mistake:
    at, made = feed.statement.at, []
    turned = feed._replace(contacts={1 - leg: wire for leg, wire in feed.contacts.items()})
    for frog in piece.template.frogs:
        metal, rails = bonds.wiring.metal(piece.name, frog.metal), list(dict.fromkeys(frog.wants.values()))
        for when, wire in contacts(bonds.wiring, turned, frog) if feed.kind == "switched" else ():
            made.append(Bond(bonds.wiring.wire(wire), metal, when, "contact", at))
        for position, rail in frog.wants.items() if feed.kind == "stock rails" and len(rails) == 2 else ():
            other = bonds.wiring.metal(piece.name, rails[1 - rails.index(rail)])
            made.append(Bond(other, metal, bonds.wiring.literal(piece.name, position), "contact", at))
    return Mistake("frog contacts swapped", f"the frog contacts of {piece.name} are swapped", numbers, tuple(made), at)


def _missing(bonds: Bonds, piece: Piece, feed: FrogFeed, numbers: tuple[int, ...]) -> Iterator[Mistake]:
    at, graph = feed.statement.at, bonds.graph
    for wire in dict.fromkeys(graph.bonds[number].one for number in numbers):
        words = f"the wire from {bonds.name(wire)} to the frog contacts of {piece.name} is missing or makes no contact"
        yield Mistake("missing contact wire", words, tuple(n for n in numbers if graph.bonds[n].one == wire), (), at)
    for frog in dict.fromkeys(graph.bonds[number].other for number in numbers):
        words = f"the wire from the contacts to {bonds.name(frog)} is missing or makes no contact"
        yield Mistake("missing frog wire", words, tuple(n for n in numbers if graph.bonds[n].other == frog), (), at)


def _elsewhere(bonds: Bonds, piece: Piece, feed: FrogFeed, numbers: tuple[int, ...]) -> Iterator[Mistake]:
    for wire in feed.contacts.values():
        old = bonds.wiring.wire(wire)
        mine = tuple(number for number in numbers if bonds.graph.bonds[number].one == old)
        for other in bonds.others(wire):
            new = bonds.wiring.wire(other)
            what = f"the wire from {bonds.name(old)} to the frog contacts of {piece.name}"
            words = f"{what} comes from the wrong supply, {bonds.name(new)}"
            at = feed.statement.at
            yield Mistake("contact wire on the wrong supply", words, mine, bonds.moved(mine, old, new), at)


def _unit(bonds: Bonds, piece: Piece, feed: FrogFeed, numbers: tuple[int, ...]) -> Iterator[Mistake]:
    at = feed.statement.at
    words = f"the wire from the automatic frog unit to the frog of {piece.name} is missing or makes no contact"
    yield Mistake("missing frog wire", words, numbers, (), at)
    words = f"the automatic frog unit of {piece.name} does not hang on {feed.supply}"
    yield Mistake("unit without power", words, (), (), at, UNIT)


def other_mistakes(bonds: Bonds) -> Iterator[Mistake]:
    """Wires of common rails and toggles missing."""
    layout, known = bonds.wiring.layout, {}
    known.update({one.statement.at: "common wire" for one in layout.commons})
    known.update({one.statement.at: "toggle's wire" for one in layout.supplies.values() if one.choices})
    for number, bond in enumerate(bonds.graph.bonds):
        if bond.at in known and bond.kind in ("wire", "contact"):
            what = f"the {known[bond.at]} from {bonds.name(bond.one)} to {bonds.name(bond.other)}"
            yield Mistake(f"missing {known[bond.at]}", f"{what} is missing or makes no contact", (number,), (), bond.at)
