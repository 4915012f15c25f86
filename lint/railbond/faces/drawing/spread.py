"""Where each node lies from west to east, so that every track has room for what is on it.

A node reaches over the lanes of its darts: a line that leaves for another lane runs there at one slope. On each lane
the nodes and lines keep the order that `lanes` found, with at least so much room between them as they need.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable

from .lanes import Lanes
from .net import Net
from .scale import CLEAR, CURVE, LANE, LEAD, PIT, REACH, RUN
from .settling import settle
from .spots import Spot, lane_of

Extent = dict[int, tuple[int, int]]
"""How far west and east a node reaches in each lane, from its own place."""


def spread(net: Net, lanes: Lanes, spots: dict[int, Spot], room: Callable[[int], int]) -> dict[int, int]:
    """How far east each node lies. `spots` gives the spot within its node from which each dart leaves; `room` the
    room that an eastward dart's track needs."""
    index = {node: place for place, node in enumerate(lanes.order)}
    extents = {node: _extent(net, lanes, spots, node) for node in lanes.order}
    rows: defaultdict[int, list[int]] = defaultdict(list)
    for node in lanes.order:
        for lane in extents[node]:
            rows[lane].append(node)
    least, pulls = [], []
    joined = _joined(net, lanes)
    for lane, row in rows.items():
        for one, other in zip(row, row[1:], strict=False):
            dart = joined.get((one, other, lane))
            free = CLEAR if dart is None else room(dart)
            far = extents[one][lane][1] - extents[other][lane][0] + free
            least.append((index[one], index[other], far))
            if dart is not None:
                pulls.append((index[one], index[other], 1))
    places = settle(len(index), least, pulls)
    return {node: places[place] for node, place in index.items()}


def _joined(net: Net, lanes: Lanes) -> dict[tuple[int, int, int], int]:
    return {(net.at[dart], net.at[dart ^ 1], lane): dart for dart, lane in lanes.of.items()}


def _extent(net: Net, lanes: Lanes, spots: dict[int, Spot], node: int) -> Extent:
    """What a node takes up in each lane that it reaches."""
    extent: Extent = {}
    for dart in net.nodes[node].around:
        spot, lane, way = spots[dart], lane_of(lanes, dart), 1 if net.goes_east(dart) else -1
        level = net.nodes[node].kind == "cap" or net.piece.get(dart) in net.apexes | net.tall
        run = 0 if level else RUN
        for between in range(min(spot.lane, lane), max(spot.lane, lane) + 1):
            _widen(extent, between, spot.east + way * run * abs(between - spot.lane))
        if lane == spot.lane or net.piece.get(dart) in net.tall:
            _widen(extent, lane, spot.east + way * own_reach(net, dart))
    for dart in net.crossovers:
        if net.at[dart] == node:
            west, east = spots[dart], spots[dart ^ 1]
            for between in range(min(west.lane, east.lane), max(west.lane, east.lane) + 1):
                _widen(extent, between, west.east + RUN * abs(between - west.lane))
    if net.nodes[node].kind == "cap":
        _round(net, node, extent)
    return extent


def own_reach(net: Net, dart: int) -> int:
    """How far a node's piece reaches in its own lane towards a dart."""
    node = net.nodes[net.at[dart]]
    if node.kind != "piece":
        return 0
    if net.piece[dart] in net.tall:
        return PIT
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
    extent[lane] = min(west, east), max(far, east)
