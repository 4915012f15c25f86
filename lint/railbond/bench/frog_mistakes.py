"""What may go wrong with frogs' contacts and units, common rails and toggles."""

from __future__ import annotations

from collections.abc import Iterator

from railbond.circuit.graph import Bond
from railbond.layout.model import FrogFeed, Piece, Wire

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
            yield from _swapped(bonds, piece, feed, numbers)
            yield from _missing(bonds, piece, feed, numbers)
            yield from _elsewhere(bonds, piece, feed, numbers)


def _numbers(bonds: Bonds, piece: Piece, feed: FrogFeed) -> tuple[int, ...]:
    """The bonds by which a piece's frogs are fed."""
    metals = {bonds.wiring.metal(piece.name, frog.metal) for frog in piece.template.frogs}
    return tuple(
        number
        for number, bond in bonds.at(feed.statement.at)
        if bond.kind in ("contact", "wire") and bond.other in metals
    )


def _swapped(bonds: Bonds, piece: Piece, feed: FrogFeed, numbers: tuple[int, ...]) -> Iterator[Mistake]:
    """The two throws of one frog's contact exchanged, and those of all frogs of a piece at once."""
    every: list[Bond] = []
    for frog in piece.template.frogs:
        metal = bonds.wiring.metal(piece.name, frog.metal)
        mine = tuple(number for number in numbers if bonds.graph.bonds[number].other == metal)
        wires = list(dict.fromkeys(bonds.graph.bonds[number].one for number in mine))
        if len(wires) == 2:
            made = [
                bond._replace(one=wires[1 - wires.index(bond.one)]) for bond in map(bonds.graph.bonds.__getitem__, mine)
            ]
            every += made
            what = piece.name if len(piece.template.frogs) == 1 else bonds.name(metal)
            words = f"the frog contacts of {what} are swapped"
            yield Mistake("frog contacts swapped", words, mine, tuple(made), feed.statement.at)
    if len(piece.template.frogs) > 1 and every:
        lost = tuple(n for n in numbers if any(b.other == bonds.graph.bonds[n].other for b in every))
        words = f"the wires to all frog contacts of {piece.name} are swapped"
        yield Mistake("frog contacts swapped", words, lost, tuple(every), feed.statement.at)


def _missing(bonds: Bonds, piece: Piece, feed: FrogFeed, numbers: tuple[int, ...]) -> Iterator[Mistake]:
    at, graph = feed.statement.at, bonds.graph
    for wire, frog in dict.fromkeys((graph.bonds[number].one, graph.bonds[number].other) for number in numbers):
        words = f"the wire from {bonds.name(wire)} to the contacts of {bonds.name(frog)} is missing or makes no contact"
        lost = tuple(n for n in numbers if (graph.bonds[n].one, graph.bonds[n].other) == (wire, frog))
        yield Mistake("missing contact wire", words, lost, (), at)
    for frog in dict.fromkeys(graph.bonds[number].other for number in numbers):
        words = f"the wire from the contacts to {bonds.name(frog)} is missing or makes no contact"
        yield Mistake("missing frog wire", words, tuple(n for n in numbers if graph.bonds[n].other == frog), (), at)


def _elsewhere(bonds: Bonds, piece: Piece, feed: FrogFeed, numbers: tuple[int, ...]) -> Iterator[Mistake]:
    """One wire at a frog's contacts that comes from the other leg, or from another supply."""
    at, graph = feed.statement.at, bonds.graph
    for wire in feed.contacts.values():
        old = bonds.wiring.wire(wire)
        for frog in dict.fromkeys(graph.bonds[number].other for number in numbers if graph.bonds[number].one == old):
            mine = tuple(n for n in numbers if (graph.bonds[n].one, graph.bonds[n].other) == (old, frog))
            what = f"the wire from {bonds.name(old)} to the contacts of {bonds.name(frog)} comes from the wrong"
            for kind, other in (
                ("leg", Wire(wire.name, 1 - wire.leg)),
                *(("supply", one) for one in bonds.others(wire)),
            ):
                new = bonds.wiring.wire(other)
                words = f"{what} {kind}, {bonds.name(new)}"
                yield Mistake(f"contact wire on the wrong {kind}", words, mine, bonds.moved(mine, old, new), at)


def _unit(bonds: Bonds, piece: Piece, feed: FrogFeed, numbers: tuple[int, ...]) -> Iterator[Mistake]:
    at = feed.statement.at
    for number in numbers:
        frog = bonds.name(bonds.graph.bonds[number].other)
        words = f"the wire from the automatic frog unit to {frog} is missing or makes no contact"
        yield Mistake("missing frog wire", words, (number,), (), at)
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
