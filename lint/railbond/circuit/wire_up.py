"""From a layout to its rail graph: every template laid down, ends joined rail to rail, wires soldered on."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from itertools import pairwise

from railbond.layout.model import FrogFeed, Layout, Meeting, Piece, Supply, Wire
from railbond.layout.order import by_name
from railbond.layout.sharing import unit_groups
from railbond.layout.template import Template
from trackplan.statements import ClosureBond as BondWork

from .aligning import aligned
from .effort import spend
from .graph import Bond, Open, RailGraph, Roll, SupplyLeg
from .wire_bonds import contact_bonds, drop_bonds, run_bonds
from .wiring import Wiring, common_groups

METALS = 8
"""Metals that are wired up in a step of effort."""

Routes = dict[tuple[int, int], tuple[str, ...]]
"""For each pair of metals from one of which a wheel rolls onto the other, the positions in which it does."""


def wire_up(layout: Layout) -> Wiring:
    """The rail graph of a layout, as the design defines it: templates, joints, wires and frog feeds. Conductors are
    numbered by names, so that what is chosen of equals is the same in whatever order the lines of the plan are."""
    graph = RailGraph([], [], [], {}, [], [], {}, {})
    wiring = Wiring(layout, graph, {}, {}, aligned(layout))
    routes: dict[int, Routes] = {}
    for name in sorted(layout.pieces, key=by_name):
        template = layout.pieces[name].template
        if id(template) not in routes:
            routes[id(template)] = _routes(template)
        _lay(wiring, layout.pieces[name], routes[id(template)])
    for number, meeting in wiring.meetings:
        _join(wiring, number, meeting)
    _power(wiring)
    for name in sorted(layout.frogs, key=by_name):
        _feed_frog(wiring, layout.frogs[name])
    spend(len(graph.names) / METALS)
    return wiring


def _lay(wiring: Wiring, piece: Piece, routes: Routes) -> None:
    names, bonds, rolls, _, blades, rails, frogs, positions = wiring.graph
    template, name, at = piece.template, piece.name, piece.statement.at
    base = wiring.first[name] = len(names)
    if template.positions and (name not in wiring.aligned or wiring.is_set(name)):
        positions[name] = template.positions
    names += _words(piece)
    for index, metal in enumerate(template.metals):
        if metal.frog:
            frogs[base + index] = name
        elif template.bridge is None or index in template.bridge:  # a table's tracks are told where they lie
            rails.append(base + index)
    soldered = next((one.at for one in piece.work if isinstance(one, BondWork)), at)
    for one, other, position, kind in template.ties:
        when = wiring.literal(name, position) if position else None
        bonds.append(Bond(base + one, base + other, when, kind, soldered if kind == "bond" else at))
    needs = {positions: wiring.needs(name, positions) for positions in routes.values()}  # of which there are few
    rolls += [Roll(base + one, base + other, needs[stands], at) for (one, other), stands in routes.items()]
    for blade in template.blades:
        when = wiring.literal(name, blade.open)
        blades.append(Open(base + blade.closure, base + blade.stock, when, name))


def _routes(template: Template) -> Routes:
    found: Routes = {}
    for one, other, route in template.passes:
        own = (route,) if route else ()
        found[one, other] = found[one, other] + own if (one, other) in found else own
    return found


def _words(piece: Piece) -> list[str]:
    """`west's left rail`, and within a cut segment also from where to where."""
    name, metals = piece.name, piece.template.metals
    if piece.template.links:
        return [f"{name}'s {metal.words} ({metal.start:g} to {metal.stop:g} m)" for metal in metals]
    return [f"{name}'s {metal.words}" for metal in metals]


def _join(wiring: Wiring, number: int, meeting: Meeting) -> None:
    """Bonds the rails that meet and are not gapped; a train passes both, gapped or not."""
    one, other, at, _, gaps = meeting
    here, there = wiring.end(one), wiring.end(other)
    needs = wiring.needs(one.piece, here.routes) + wiring.needs(other.piece, there.routes)
    first, second = wiring.first[one.piece], wiring.first[other.piece]
    for side, *rails in (("left", here.left, there.right), ("right", here.right, there.left)):
        pair = first + rails[0], second + rails[1]
        if side not in gaps:
            wiring.graph.bonds.append(Bond(*pair, None, "joint", at))
        wiring.graph.rolls.append(Roll(*pair, needs, at, number))


def _power(wiring: Wiring) -> None:
    layout, graph = wiring.layout, wiring.graph
    groups = common_groups(layout)
    supplies = [layout.supplies[name] for name in sorted(layout.supplies, key=by_name)]
    for supply in supplies:
        _supply(wiring, supply, groups)
    for supply in supplies:
        _toggle(wiring, supply)
    for common in layout.commons:
        shared = [wiring.wire(wire) for wire in common.legs]
        graph.bonds.extend(Bond(*pair, None, "wire", common.statement.at) for pair in pairwise(shared))
    for name in sorted(layout.terminals, key=by_name):
        _pair(wiring, name, layout.terminals[name])
    for run in layout.runs:
        graph.bonds.extend(run_bonds(wiring, run))
    for drop in layout.drops:
        graph.bonds.extend(drop_bonds(wiring, drop))


def _supply(wiring: Wiring, supply: Supply, groups: dict[Wire, str]) -> None:
    """A supply's two legs. A block behind a toggle is no source: it carries what the toggle connects it to."""
    base = _pair(wiring, supply.name, supply.legs)
    if supply.choices:
        wiring.graph.positions[supply.name] = supply.choices
        return
    wiring.graph.sources.update(enumerate(supply_legs(wiring.layout, supply, groups), base))


def supply_legs(layout: Layout, supply: Supply, groups: Mapping[Wire, str]) -> Iterator[SupplyLeg]:
    """The two legs of a supply, by the common rails of legs."""
    cab = supply if supply.kind == "cab" else layout.supplies.get(supply.district or "")
    is_analog = cab is not None and cab.kind == "cab"
    kind = "analog" if is_analog else "reverser" if supply.kind == "reverser" else "fixed"
    for leg in (0, 1):
        common = groups.get(Wire(supply.name, leg), "")
        yield SupplyLeg(supply.name, leg, kind, cab.name if cab and is_analog else "", common)


def _toggle(wiring: Wiring, supply: Supply) -> None:
    for choice in supply.choices:
        for leg in (0, 1):
            ends = wiring.wire(Wire(choice, leg)), wiring.wire(Wire(supply.name, leg))
            wiring.graph.bonds.append(Bond(*ends, (supply.name, choice), "contact", supply.statement.at))


def _pair(wiring: Wiring, name: str, legs: tuple[str, str]) -> int:
    base = wiring.wires[name] = len(wiring.graph.names)
    wiring.graph.names.extend(f"{name}.{leg}" for leg in legs)
    return base


def _feed_frog(wiring: Wiring, feed: FrogFeed) -> None:
    if feed.kind == "automatic":
        _units(wiring, wiring.layout.pieces[feed.piece], feed)
    wiring.graph.bonds.extend(contact_bonds(wiring, feed))


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
