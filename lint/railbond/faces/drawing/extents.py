"""How far nodes reach from west to east in each lane.

A node reaches over the lanes of its darts: a line that leaves for another lane runs there at one slope.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping

from .lanes import Lanes
from .letters import wide
from .net import Net
from .scale import CURVE, LANE, LEAD, PILL, REACH, RUN
from .spots import NodeSpot, lane_of

Extent = dict[int, tuple[int, int]]
"""How far west and east a node reaches in each lane, from its own place."""


class Extents:
    """What the nodes of a net take up. A search asks the same of them many times, so each answer is kept by how the
    node's darts lie. The net must stay as it is."""

    def __init__(self, net: Net) -> None:
        self._net = net
        self._across: defaultdict[int, list[int]] = defaultdict(list)
        for dart in net.crossovers:
            self._across[net.at[dart]].append(dart)
        self._scissored = frozenset(net.scissors.values())
        self._around: dict[int, list[int]] = {}
        self._known: dict[tuple[object, ...], Extent] = {}

    def of(
        self, nodes: Iterable[int], lanes: Lanes, spots: Mapping[int, NodeSpot], lax: bool = False
    ) -> dict[int, Extent]:
        """What nodes take up in each lane that they reach; `lax`: if no track had to rise by more than one lane."""
        return {node: self._of(node, lanes, spots, lax) for node in nodes}

    def _of(self, node: int, lanes: Lanes, spots: Mapping[int, NodeSpot], lax: bool) -> Extent:
        around = self._around.get(node)
        if around is None:
            around = self._around[node] = self._net.nodes[node].around
        across = [spots[one] for dart in self._across.get(node, ()) for one in (dart, dart ^ 1)]
        key = node, lax, *[(spots[dart], lane_of(lanes, dart)) for dart in around], *across
        known = self._known.get(key)
        if known is None:
            known = self._known[key] = self._worked_out(node, around, lanes, spots, lax)
        return known

    def _worked_out(
        self, node: int, around: list[int], lanes: Lanes, spots: Mapping[int, NodeSpot], lax: bool
    ) -> Extent:
        net, extent = self._net, Extent()
        for dart in around:
            _run_out(net, extent, dart, spots[dart], lane_of(lanes, dart), lax)
        if around and (far := net.tall.get(net.piece.get(around[0], ""))):
            for lane in extent:
                _widen(extent, lane, -far)
                _widen(extent, lane, far)
        for dart in self._across.get(node, ()):
            west, east = spots[dart], spots[dart ^ 1]
            for between in range(min(west.lane, east.lane), max(west.lane, east.lane) + 1):
                _widen(extent, between, west.east + RUN * abs(between - west.lane))
        if node in self._scissored:
            own = [spots[dart] for dart in around]
            for between in range(min(one.lane for one in own), max(one.lane for one in own) + 1):
                for one in own:
                    _widen(extent, between, one.east)
        if net.nodes[node].kind in ("edge", "fold"):
            name = wide(net.nodes[node].name.rpartition(".")[2], PILL, bold=True)
            for lane in extent:
                _widen(extent, lane, round(name + 26) * (-1 if net.nodes[node].east else 1))
        if net.nodes[node].kind == "cap":
            _round(net, node, extent)
        return extent


def _run_out(net: Net, extent: Extent, dart: int, spot: NodeSpot, lane: int, lax: bool) -> None:
    """A line runs from its spot to its lane; where it does not leave that, its piece reaches out in it."""
    way, piece = 1 if net.goes_east(dart) else -1, net.piece.get(dart)
    level = net.nodes[net.at[dart]].kind == "cap" or piece in net.apexes or piece in net.tall
    run = 0 if level else RUN
    for between in (spot.lane, lane) if lax else range(min(spot.lane, lane), max(spot.lane, lane) + 1):
        rise = abs(between - spot.lane)
        _widen(extent, between, spot.east + way * run * (min(rise, 1) if lax else rise))
    if lane == spot.lane or piece in net.tall:
        _widen(extent, lane, spot.east + way * own_reach(net, dart))


def own_reach(net: Net, dart: int) -> int:
    """How far a node's piece reaches in its own lane toward a dart."""
    node = net.nodes[net.at[dart]]
    if node.kind != "piece":
        return 0
    if net.piece[dart] in net.tall:
        return net.tall[net.piece[dart]]
    alone = len(node.east if dart in node.east else node.west) == 1
    return LEAD if alone and net.piece[dart] not in net.apexes else REACH


def _round(net: Net, node: int, extent: Extent) -> None:
    """The curve in which track doubles back takes room behind the cap."""
    curve = int(min((max(extent) - min(extent)) * LANE / 2, CURVE))
    for lane in range(min(extent), max(extent) + 1):
        west, east = extent.get(lane, (0, 0))
        extent[lane] = (west, east + curve) if net.nodes[node].west else (west - curve, east)


def _widen(extent: Extent, lane: int, east: int) -> None:
    west, far = extent.get(lane, (east, east))
    extent[lane] = east if east < west else west, east if east > far else far
