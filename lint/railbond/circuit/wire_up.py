"""From a layout to its rail graph: every template laid down, ends joined rail to rail, wires soldered on."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from itertools import pairwise

from railbond.layout.model import FrogFeed, Layout, Piece, Supply, Wire
from railbond.layout.order import by_name
from railbond.layout.sharing import unit_groups
from railbond.layout.template import Template
from trackplan.record import NamedTuple, new
from trackplan.statements import ClosureBond as BondWork

from .aligning import aligned
from .effort import spend
from .graph import Bond, Open, RailGraph, Roll, SupplyLeg
from .wire_bonds import contact_bonds, drop_bonds, run_bonds
from .wiring import Wiring, common_groups

ENDS = 20
"""Binary places that number the ends of a piece: more than any table has tracks."""

METALS = 8
"""Metals that are wired up in a step of effort."""


class Pattern(NamedTuple):
    """What all pieces of one template have in the rail graph: their metals' words, which of these are rails and frogs,
    the pairs from one of which a wheel rolls onto the other, each with the positions in which it does, and all such
    positions, together and one by one."""

    words: tuple[str, ...]
    rails: tuple[int, ...]
    frogs: tuple[int, ...]
    rolls: tuple[tuple[int, int, tuple[str, ...]], ...]
    needs: frozenset[tuple[str, ...]]
    positions: tuple[str, ...]


def wire_up(layout: Layout) -> Wiring:
    """The rail graph of a layout, as the design defines it: templates, joints, wires and frog feeds. Conductors are
    numbered by names, so that what is chosen of equals is the same in whatever order the lines of the plan are."""
    graph = RailGraph([], [], [], {}, [], [], {}, {})
    wiring = Wiring(layout, graph, {}, {}, aligned(layout), [])
    patterns: dict[int, Pattern] = {}
    for name in sorted(layout.pieces, key=by_name):
        piece = layout.pieces[name]
        pattern = patterns.get(id(piece.template))
        if pattern is None:
            pattern = patterns[id(piece.template)] = _pattern(piece.template)
        _lay(wiring, piece, pattern)
    wiring.order.extend(_order(wiring))
    _join(wiring)
    _power(wiring)
    for name in sorted(layout.frogs, key=by_name):
        _feed_frog(wiring, layout.frogs[name])
    spend(len(graph.names) / METALS)
    return wiring


def _lay(wiring: Wiring, piece: Piece, pattern: Pattern) -> None:
    names, bonds, rolls, _, blades, rails, frogs, positions = wiring.graph
    template, name, at = piece.template, piece.name, piece.statement.at
    base = wiring.first[name] = len(names)
    own = [*range(base, base + len(pattern.words))]  # the same numbers for all that is said of them
    names += [f"{name}'s {words}" for words in pattern.words]
    rails += [own[index] for index in pattern.rails]
    for index in pattern.frogs:
        frogs[own[index]] = name
    if template.positions and (name not in wiring.aligned or wiring.is_set(name)):
        positions[name] = template.positions
    if not (pattern.rolls or template.ties or template.blades):
        return  # plain track
    soldered = next((one.at for one in piece.work if isinstance(one, BondWork)), at)
    whens = {position: wiring.literal(name, position) for position in pattern.positions}
    bonds += [
        new(Bond, (own[one], own[other], position and whens[position], kind, soldered if kind == "bond" else at))
        for one, other, position, kind in template.ties
    ]
    needs = {stands: wiring.needs(name, stands) for stands in pattern.needs}
    rolls += [new(Roll, (own[one], own[other], needs[stands], at, None)) for one, other, stands in pattern.rolls]
    blades += [new(Open, (own[closure], own[stock], whens[stands], name)) for closure, stock, stands in template.blades]


def _pattern(template: Template) -> Pattern:
    metals, routes = template.metals, dict[tuple[int, int], tuple[str, ...]]()
    for one, other, route in template.passes:
        routes[one, other] = (*routes.get((one, other), ()), *((route,) if route else ()))
    bridge = template.bridge or range(len(metals))  # a table's tracks are told where they lie
    positions = {*(tie.when for tie in template.ties if tie.when), *(blade.open for blade in template.blades)}
    return Pattern(
        words=tuple(
            f"{one.words} ({one.start:g} to {one.stop:g} m)" if template.links else one.words for one in metals
        ),
        rails=tuple(index for index, metal in enumerate(metals) if not metal.frog and index in bridge),
        frogs=tuple(index for index, metal in enumerate(metals) if metal.frog),
        rolls=tuple((*pair, stands) for pair, stands in routes.items()),
        needs=frozenset(routes.values()),
        positions=tuple(sorted(positions)),
    )


def _order(wiring: Wiring) -> list[int]:
    """The numbers of a layout's meetings by the names of their pieces and the ends as these have them."""
    first, pieces = wiring.first, wiring.layout.pieces
    places: dict[int, dict[str, int]] = {}  # of the ends of each template, which many pieces have
    for piece in pieces.values():
        if id(piece.template) not in places:
            places[id(piece.template)] = {name: place for place, name in enumerate(piece.template.ends)}
    ends = []  # the lesser one before the other, both as one number: those are sorted the fastest
    for (one, end), (other, far), _, _, _ in wiring.layout.meetings:
        here = (first[one] << ENDS) + places[id(pieces[one].template)][end]
        there = (first[other] << ENDS) + places[id(pieces[other].template)][far]
        ends.append(here << 64 | there if here <= there else there << 64 | here)
    return sorted(range(len(ends)), key=ends.__getitem__)


def _join(wiring: Wiring) -> None:
    """Bonds the rails that meet and are not gapped; a train passes both, gapped or not."""
    first, pieces, bonds, rolls = wiring.first, wiring.layout.pieces, wiring.graph.bonds, wiring.graph.rolls
    for number, (one, other, at, _, gaps) in wiring.meetings:
        here, there = pieces[one.piece].template.ends[one.end], pieces[other.piece].template.ends[other.end]
        needs = wiring.needs(one.piece, here.routes) if here.routes else ()
        if there.routes:
            needs += wiring.needs(other.piece, there.routes)
        before, beyond = first[one.piece], first[other.piece]
        for side, near, far in (("left", here.left, there.right), ("right", here.right, there.left)):
            inner, outer = before + near, beyond + far
            if side not in gaps:
                bonds.append(new(Bond, (inner, outer, None, "joint", at)))
            rolls.append(new(Roll, (inner, outer, needs, at, number)))


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
