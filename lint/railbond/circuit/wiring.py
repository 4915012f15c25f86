"""From a layout to its rail graph: every template laid down, ends joined rail to rail, wires soldered on."""

from __future__ import annotations

from typing import NamedTuple

from railbond.layout.model import EndAt, FrogFeed, Layout, Meeting, Piece, Wire
from railbond.layout.template import OTHER_SIDE, End
from trackplan.statements import Bond as BondWork

from .graph import Bond, Open, RailGraph, Roll, Source


class Wiring(NamedTuple):
    """A layout's rail graph, and where each piece's and each wire's conductors begin in it."""

    layout: Layout
    graph: RailGraph
    first: dict[str, int]
    wires: dict[str, int]

    def metal(self, piece: str, metal: int) -> int:
        """The conductor of a piece's metal."""
        return self.first[piece] + metal

    def wire(self, wire: Wire) -> int:
        """The conductor of one leg of a supply or terminal."""
        return self.wires[wire.name] + wire.leg

    def end(self, at: EndAt) -> End:
        """What a piece's template says of that end."""
        return self.layout.pieces[at.piece].template.ends[at.end]

    def rail(self, at: EndAt, side: str) -> int:
        """The conductor on that side of an end, looking out of it."""
        return self.first[at.piece] + self.end(at).side(side)

    def across(self, meeting: Meeting, side: str) -> tuple[int, int]:
        """The two rails that meet on a side, looking out of the meeting's first end."""
        return self.rail(meeting.one, side), self.rail(meeting.other, OTHER_SIDE[side])


def wire_up(layout: Layout) -> Wiring:
    """The rail graph of a layout, as the design defines it: templates, joints, wires and frog feeds."""
    graph = RailGraph([], [], [], {}, [], [], {}, {})
    wiring = Wiring(layout, graph, {}, {})
    for piece in layout.pieces.values():
        _lay(wiring, piece)
    for number, meeting in enumerate(layout.meetings):
        _join(wiring, number, meeting)
    _power(wiring)
    for feed in layout.frogs.values():
        _feed_frog(wiring, feed)
    return wiring


def _lay(wiring: Wiring, piece: Piece) -> None:
    names, bonds, rolls, _, blades, rails, frogs, positions = wiring.graph
    template, name, at = piece.template, piece.name, piece.statement.at
    base = wiring.first[name] = len(names)
    if template.positions:
        positions[name] = template.positions
    for index, metal in enumerate(template.metals):
        names.append(_words(piece, index))
        if metal.frog:
            frogs[base + index] = name
        else:
            rails.append(base + index)
    soldered = next((one.at for one in piece.work if isinstance(one, BondWork)), at)
    for tie in template.ties:
        when = (name, tie.when) if tie.when else None
        line = soldered if tie.kind == "bond" else at
        bonds.append(Bond(base + tie.one, base + tie.other, when, tie.kind, line))
    for step in template.passes:
        needs = ((name, (step.route,)),) if step.route else ()
        rolls.append(Roll(base + step.one, base + step.other, needs, at))
    for blade in template.blades:
        blades.append(Open(base + blade.closure, base + blade.stock, (name, blade.open), name))


def _words(piece: Piece, index: int) -> str:
    """`west's left rail`, and within a cut segment also from where to where."""
    metal = piece.template.metals[index]
    if piece.template.links:
        return f"{piece.name}'s {metal.words} ({metal.start:g} to {metal.stop:g} m)"
    return f"{piece.name}'s {metal.words}"


def _join(wiring: Wiring, number: int, meeting: Meeting) -> None:
    """Bonds the rails that meet and are not gapped; a train passes both, gapped or not."""
    needs = tuple((at.piece, end.routes) for at in (meeting.one, meeting.other) if (end := wiring.end(at)).routes)
    for side in ("left", "right"):
        one, other = wiring.across(meeting, side)
        if side not in meeting.gaps:
            wiring.graph.bonds.append(Bond(one, other, None, "joint", meeting.at))
        wiring.graph.rolls.append(Roll(one, other, needs, meeting.at, number))


def _power(wiring: Wiring) -> None:
    layout, graph = wiring.layout, wiring.graph
    for name, supply in layout.supplies.items():
        base = _pair(wiring, name, supply.legs)
        kind = "reverser" if supply.kind == "reverser" else "fixed"
        for leg in (0, 1):
            graph.sources[base + leg] = Source(name, leg, kind)
    for name, legs in layout.terminals.items():
        _pair(wiring, name, legs)
    for run in layout.runs:
        for leg in (0, 1):
            far = Wire(run.terminal, 1 - leg if run.crossed else leg)
            ends = wiring.wire(Wire(run.source, leg)), wiring.wire(far)
            graph.bonds.append(Bond(*ends, None, "wire", run.statement.at))
    for drop in layout.drops:
        ends = wiring.wire(drop.wire), wiring.metal(drop.piece, drop.metal)
        graph.bonds.append(Bond(*ends, None, "wire", drop.statement.at))


def _pair(wiring: Wiring, name: str, legs: tuple[str, str]) -> int:
    base = wiring.wires[name] = len(wiring.graph.names)
    wiring.graph.names.extend(f"{name}.{leg}" for leg in legs)
    return base


def _feed_frog(wiring: Wiring, feed: FrogFeed) -> None:
    graph, at = wiring.graph, feed.statement.at
    piece = wiring.layout.pieces[feed.piece]
    for frog in piece.template.frogs:
        metal = wiring.metal(piece.name, frog.metal)
        if feed.kind == "automatic":
            graph.sources[len(graph.names)] = Source(f"frog unit of {piece.name}", 0, "unit")
            graph.bonds.append(Bond(len(graph.names), metal, None, "wire", at))
            graph.names.append(f"the automatic frog unit of {piece.name}")
        mover = feed.mover or piece.name
        reach = {position: wiring.wire(wire) for position, wire in feed.contacts.items()}
        if feed.kind == "stock rails":
            reach = {position: wiring.metal(piece.name, rail) for position, rail in frog.wants.items()}
        for position, conductor in reach.items():
            graph.bonds.append(Bond(conductor, metal, (mover, position), "contact", at))
