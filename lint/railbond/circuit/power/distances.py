"""How far the places of each rail are, along the metal, from the nearest wire soldered to it."""

from __future__ import annotations

from collections.abc import Iterable
from heapq import heapify, heappop, heappush

from railbond.layout.model import Drop, Piece
from trackplan.record import NamedTuple

from .network import Network, Rail

MICROMETER = 6


class Far(NamedTuple):
    """The place of a piece that is furthest from a soldered wire: meters from its start (on a piece without a length:
    from its middle), the distance along the metal, the conductor, and the drop that is nearest."""

    distance: float
    piece: str
    meters: float
    conductor: int
    drop: Drop


Distances = dict[int, tuple[float, int]]
"""Meters, and the number of the drop; that of whatever lies beyond an edge."""
BEYOND = -1


class BeyondReach(Exception):
    """The nearest wire may lie beyond the part of the layout that is looked at."""


def furthest(network: Network, pieces: list[Piece], edge: Iterable[int] = ()) -> list[Far]:
    """The furthest place of each of the pieces, where some wire is soldered to its metal at all.

    `edge` are the nodes at which a network that is a part of a layout goes on. Raises BeyondReach where a wire beyond
    them may be the nearest.
    """
    distances, drops = _distances(network, edge), network.wiring.layout.drops
    found = []
    for piece in pieces:
        ends = [one for one in _rails(network, piece) if one[1].one in distances]
        far = [_top(piece, conductor, rail, distances, drops) for conductor, rail in ends]
        if far:
            found.append(max(far, key=lambda one: one.distance))
    return found


def _rails(network: Network, piece: Piece) -> list[tuple[int, Rail]]:
    """Every stretch of a piece's rails, with its conductor."""
    own = range(network.wiring.first[piece.name], network.wiring.first[piece.name] + len(piece.template.metals))
    arms = [
        (conductor, network.arms[conductor, end])
        for conductor in own for end in piece.template.ends if (conductor, end) in network.arms
    ]  # fmt: skip
    return [(conductor, rail) for conductor in own for rail in network.rails.get(conductor, ())] + arms


def _top(piece: Piece, conductor: int, rail: Rail, distances: Distances, drops: list[Drop]) -> Far:
    """The furthest place of a stretch: where the ways to either side are equally long."""
    (here, number), (there, other), length = distances[rail.one], distances[rail.other], rail.stop - rail.start
    if BEYOND in (number, other):
        raise BeyondReach
    from_start = min(max((length + there - here) / 2, 0.0), length)
    return Far(round(here + from_start, MICROMETER), piece.name, rail.start + from_start, conductor, drops[number])


def _distances(network: Network, edge: Iterable[int]) -> Distances:
    """Meters along the metal from each node to the nearest soldered wire or edge, and that (Dijkstra's algorithm)."""
    beside: dict[int, list[tuple[int, float]]] = {}
    rails = [rail for found in network.rails.values() for rail in found]
    steps = [(rail.one, rail.other, rail.stop - rail.start) for rail in (*rails, *network.arms.values())]
    steps += [(one.one, one.other, 0.0) for one in network.resistors if one.kind == "joiner"]
    for one, other, meters in steps:
        beside.setdefault(one, []).append((other, meters))
        beside.setdefault(other, []).append((one, meters))
    wiring, drops = network.wiring, network.wiring.layout.drops
    heap = [
        (0.0, network.nodes[wiring.metal(drop.piece, drop.metal), drop.place], number)
        for number, drop in enumerate(drops)
    ]
    heap += ((0.0, node, BEYOND) for node in edge)
    heapify(heap)
    found: Distances = {}
    while heap:
        meters, node, number = heappop(heap)
        if node not in found:
            found[node] = meters, number
            for other, more in beside.get(node, ()):
                if other not in found:
                    heappush(heap, (meters + more, other, number))
    return found
