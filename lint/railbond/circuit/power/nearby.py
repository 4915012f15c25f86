"""Far places found in the part of the network around them: a wire nearer than the edge of that part is the nearest."""

from __future__ import annotations

from railbond.circuit.effort import spend
from railbond.circuit.wiring import Wiring
from railbond.layout.model import EndAt, Piece

from .distances import BeyondReach, Far, furthest
from .lay import lay, place_at
from .network import Network
from .solved import RESISTORS, SolvedNetwork
from .spacing import Neighbors

HOPS = (3, 12)
"""Pieces from one to the next that are looked at around each, before the whole layout is."""


def furthest_around(power: SolvedNetwork, pieces: list[Piece]) -> list[Far]:
    """The furthest place of each of the pieces, as the network of the whole layout tells it."""
    for hops in HOPS:
        names = _around(power.met, pieces, hops)
        if 2 * len(names) > len(power.layout.pieces):
            break
        network, edge = _part(power.wiring, names)
        try:
            return furthest(network, pieces, edge)
        except BeyondReach:
            continue
    return furthest(power.network, pieces)


def _around(met: Neighbors, pieces: list[Piece], hops: int) -> set[str]:
    """The names of the pieces, and of all that are so many pieces away."""
    found = {piece.name for piece in pieces}
    latest = set(found)
    for _ in range(hops):
        latest = {name for here in latest for name in met.get(here, ())} - found
        found |= latest
    return found


def _part(wiring: Wiring, names: set[str]) -> tuple[Network, list[int]]:
    """The rails of those pieces as a network, and the nodes at which other pieces meet them."""
    layout, own = wiring.layout, set[int]()
    pieces = {name: piece for name, piece in layout.pieces.items() if name in names}
    for name, piece in pieces.items():
        own.update(range(wiring.first[name], wiring.first[name] + len(piece.template.metals)))
    inside, edge = [], list[tuple[EndAt, str]]()
    for meeting in layout.meetings:
        within = [at for at in (meeting.one, meeting.other) if at.piece in names]
        if len(within) == 2:
            inside.append(meeting)
        elif within:
            edge += ((within[0], side) for side in ("left", "right"))
    drops = [drop for drop in layout.drops if drop.piece in names]
    bonds = [bond for bond in wiring.graph.bonds if bond.one in own or bond.other in own]
    part = layout._replace(pieces=pieces, meetings=inside, drops=drops, runs=[], commons=[])
    network = lay(wiring._replace(layout=part, graph=wiring.graph._replace(bonds=bonds, sources={})))
    spend(len(network.resistors) / RESISTORS)
    return network, [network.nodes[place] for end in edge if (place := place_at(wiring, *end)) in network.nodes]
