"""From a layout to its rail graph: every template laid down, ends joined rail to rail, wires soldered on."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from railbond.layout.model import EndAt, FrogFeed, Layout, Meeting, Piece, Supply, Wire
from railbond.layout.sharing import unit_groups
from railbond.layout.template import OTHER_SIDE, End, Frog, Template
from railbond.trackwork import contact_legs
from trackplan.record import NamedTuple
from trackplan.statements import ClosureBond as BondWork

from .aligning import Needs, aligned
from .effort import spend
from .graph import Bond, Literal, Open, RailGraph, Roll, SupplyLeg


class Wiring(NamedTuple):
    """A layout's rail graph, and where each piece's and each wire's conductors begin in it."""

    layout: Layout
    graph: RailGraph
    first: dict[str, int]
    wires: dict[str, int]
    aligned: dict[str, dict[str, Needs]]
    """For track without points of its own that is aligned with other points: how those stand for each route."""

    def literal(self, piece: str, position: str) -> Literal:
        """The switch that stands for a piece's position, and how: its own, or the one that it is aligned with."""
        needs = self.aligned.get(piece, {}).get(position)
        return (needs[0][0], needs[0][1][0]) if needs else (piece, position)

    def needs(self, piece: str, positions: tuple[str, ...]) -> tuple[tuple[str, tuple[str, ...]], ...]:
        """The same for any of some positions, as a roll needs it; nothing where there are none."""
        found: dict[str, tuple[str, ...]] = {}
        for position in positions:
            for switch, stands in self.aligned.get(piece, {}).get(position, ((piece, (position,)),)):
                found[switch] = tuple(dict.fromkeys((*found.get(switch, ()), *stands)))
        return tuple(found.items())

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


METALS = 8
"""Metals that are wired up in a step of effort."""


def wire_up(layout: Layout) -> Wiring:
    """The rail graph of a layout, as the design defines it: templates, joints, wires and frog feeds."""
    graph = RailGraph([], [], [], {}, [], [], {}, {})
    wiring = Wiring(layout, graph, {}, {}, aligned(layout))
    for piece in layout.pieces.values():
        _lay(wiring, piece)
    for number, meeting in enumerate(layout.meetings):
        _join(wiring, number, meeting)
    _power(wiring)
    for feed in layout.frogs.values():
        _feed_frog(wiring, feed)
    spend(len(graph.names) / METALS)
    return wiring


def _lay(wiring: Wiring, piece: Piece) -> None:
    names, bonds, rolls, _, blades, rails, frogs, positions = wiring.graph
    template, name, at = piece.template, piece.name, piece.statement.at
    base = wiring.first[name] = len(names)
    if template.positions and name not in wiring.aligned:
        positions[name] = template.positions
    for index, metal in enumerate(template.metals):
        names.append(_words(piece, index))
        if metal.frog:
            frogs[base + index] = name
        elif template.bridge is None or index in template.bridge:  # a table's tracks are told where they lie
            rails.append(base + index)
    soldered = next((one.at for one in piece.work if isinstance(one, BondWork)), at)
    for tie in template.ties:
        when = wiring.literal(name, tie.when) if tie.when else None
        line = soldered if tie.kind == "bond" else at
        bonds.append(Bond(base + tie.one, base + tie.other, when, tie.kind, line))
    for (one, other), routes in _routes(piece.template).items():
        rolls.append(Roll(base + one, base + other, wiring.needs(name, routes), at))
    for blade in template.blades:
        when = wiring.literal(name, blade.open)
        blades.append(Open(base + blade.closure, base + blade.stock, when, name))


def _routes(template: Template) -> dict[tuple[int, int], tuple[str, ...]]:
    """For each pair of metals from one of which a wheel rolls onto the other, the positions in which it does."""
    found: dict[tuple[int, int], tuple[str, ...]] = {}
    for step in template.passes:
        route = (step.route,) if step.route else ()
        found[step.one, step.other] = (*found.get((step.one, step.other), ()), *route)
    return found


def _words(piece: Piece, index: int) -> str:
    """`west's left rail`, and within a cut segment also from where to where."""
    metal = piece.template.metals[index]
    if piece.template.links:
        return f"{piece.name}'s {metal.words} ({metal.start:g} to {metal.stop:g} m)"
    return f"{piece.name}'s {metal.words}"


def _join(wiring: Wiring, number: int, meeting: Meeting) -> None:
    """Bonds the rails that meet and are not gapped; a train passes both, gapped or not."""
    needs = tuple(one for at in (meeting.one, meeting.other) for one in wiring.needs(at.piece, wiring.end(at).routes))
    for side in ("left", "right"):
        one, other = wiring.across(meeting, side)
        if side not in meeting.gaps:
            wiring.graph.bonds.append(Bond(one, other, None, "joint", meeting.at))
        wiring.graph.rolls.append(Roll(one, other, needs, meeting.at, number))


def _power(wiring: Wiring) -> None:
    layout, graph = wiring.layout, wiring.graph
    groups = common_groups(layout)
    for supply in layout.supplies.values():
        _supply(wiring, supply, groups)
    for supply in layout.supplies.values():
        _toggle(wiring, supply)
    for common in layout.commons:
        shared = [wiring.wire(wire) for wire in common.legs]
        graph.bonds.extend(Bond(*pair, None, "wire", common.statement.at) for pair in pairwise(shared))
    for name, legs in layout.terminals.items():
        _pair(wiring, name, legs)
    for run in layout.runs:
        for leg in (0, 1):
            far = Wire(run.terminal, 1 - leg if run.crossed else leg)
            both = wiring.wire(Wire(run.source, leg)), wiring.wire(far)
            graph.bonds.append(Bond(*both, None, "wire", run.statement.at))
    for drop in layout.drops:
        ends = wiring.wire(drop.wire), wiring.metal(drop.piece, drop.metal)
        mover, positions = drop.when or ("", ())
        whens = [wiring.literal(mover, position) for position in positions] if drop.when else [None]
        kind = "contact" if drop.when else "wire"
        graph.bonds.extend(Bond(*ends, when, kind, drop.statement.at) for when in whens)


def _supply(wiring: Wiring, supply: Supply, groups: dict[Wire, str]) -> None:
    """A supply's two legs. A block behind a toggle is no source: it carries what the toggle connects it to."""
    base = _pair(wiring, supply.name, supply.legs)
    if supply.choices:
        wiring.graph.positions[supply.name] = supply.choices
        return
    cab = supply if supply.kind == "cab" else wiring.layout.supplies.get(supply.district or "")
    is_analog = cab is not None and cab.kind == "cab"
    kind = "analog" if is_analog else "reverser" if supply.kind == "reverser" else "fixed"
    for leg in (0, 1):
        common = groups.get(Wire(supply.name, leg), "")
        wiring.graph.sources[base + leg] = SupplyLeg(
            supply.name, leg, kind, cab.name if cab and is_analog else "", common
        )


def _toggle(wiring: Wiring, supply: Supply) -> None:
    for choice in supply.choices:
        for leg in (0, 1):
            ends = wiring.wire(Wire(choice, leg)), wiring.wire(Wire(supply.name, leg))
            wiring.graph.bonds.append(Bond(*ends, (supply.name, choice), "contact", supply.statement.at))


def common_groups(layout: Layout) -> dict[Wire, str]:
    """The common rail that each leg is part of; rails that share a leg are one."""
    found: dict[Wire, str] = {}
    for one in layout.commons:
        group = f"{one.legs[0].name}.{one.legs[0].leg}"
        joined = {found[wire] for wire in one.legs if wire in found}
        found |= dict.fromkeys([*one.legs, *(wire for wire, name in found.items() if name in joined)], group)
    return found


def _pair(wiring: Wiring, name: str, legs: tuple[str, str]) -> int:
    base = wiring.wires[name] = len(wiring.graph.names)
    wiring.graph.names.extend(f"{name}.{leg}" for leg in legs)
    return base


def _feed_frog(wiring: Wiring, feed: FrogFeed) -> None:
    graph, at = wiring.graph, feed.statement.at
    piece = wiring.layout.pieces[feed.piece]
    if feed.kind == "automatic":
        _units(wiring, piece, feed)
    for frog in wiring.layout.fed_frogs(feed):
        metal = wiring.metal(piece.name, frog.metal)
        reach = [(literal, wiring.wire(wire)) for literal, wire in contacts(wiring, feed, frog)]
        if feed.kind == "stock rails":
            rails = stock_contacts(piece, frog).items()
            reach = [(wiring.literal(piece.name, at), wiring.metal(piece.name, rail)) for at, rail in rails]
        for literal, conductor in reach:
            graph.bonds.append(Bond(conductor, metal, literal, "contact", at))


def _units(wiring: Wiring, piece: Piece, feed: FrogFeed) -> None:
    """As many automatic units as the frogs need."""
    graph, groups = wiring.graph, unit_groups(piece.template, feed.frogs)
    for number, group in enumerate(groups, start=1):
        which = f" {number}" if len(groups) > 1 else ""
        graph.sources[len(graph.names)] = SupplyLeg(f"frog unit{which} of {feed.name}", 0, "unit")
        for frog in group:
            metal = wiring.metal(piece.name, piece.template.frogs[frog].metal)
            graph.bonds.append(Bond(len(graph.names), metal, None, "wire", feed.statement.at))
        graph.names.append(f"the automatic frog unit{which} of {feed.name}")


def contacts(wiring: Wiring, feed: FrogFeed, frog: Frog) -> Iterator[tuple[Literal, Wire]]:
    """How the points stand for each contact of a frog, and the wire that it then brings.

    A frog with other points than its piece's own gets the first wire in their first position; of aligned track, what
    its first route gets. That is how the contact is wired, whichever route the points then lead to.
    """
    piece, mover = wiring.layout.pieces[feed.piece], wiring.layout.pieces[feed.mover or feed.piece]
    if mover is piece or piece.template.aligned:
        thrown = dict(zip(piece.template.positions, mover.template.positions, strict=False))
        for position, leg in contact_legs(piece.statement, piece.template, frog).items():
            if leg in feed.contacts and position in thrown:
                yield (mover.name, thrown[position]), feed.contacts[leg]
        return
    for leg, wire in feed.contacts.items():
        if leg < len(mover.template.positions):
            yield wiring.literal(mover.name, mover.template.positions[leg]), wire


def stock_contacts(piece: Piece, frog: Frog) -> dict[str, int]:
    """The rail that a frog's contacts bring in each position, where they hang on the piece's own rails."""
    rails = {frog.legs[position]: rail for position, rail in frog.wants.items()}
    legs = contact_legs(piece.statement, piece.template, frog)
    return dict(frog.wants) | {at: rails[leg] for at, leg in legs.items() if at not in frog.wants}
