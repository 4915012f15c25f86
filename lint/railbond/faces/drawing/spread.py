"""Where each node lies from west to east, so that every track has room for what is on it.

A node reaches over the lanes of its darts: a line that leaves for another lane runs there at one slope. On each lane
the nodes and lines keep the order that `lanes` found, with at least so much room between them as they need.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Collection, Mapping
from functools import cmp_to_key

from .lanes import Lanes
from .letters import wide
from .net import Net
from .scale import CLEAR, CURVE, LANE, LEAD, PILL, REACH, RUN
from .settling import settle
from .spots import NodeSpot, lane_of

Extent = dict[int, tuple[int, int]]
"""How far west and east a node reaches in each lane, from its own place."""


def spread(
    net: Net,
    lanes: Lanes,
    spots: dict[int, NodeSpot],
    room: Callable[[int], int],
    lax: bool = False,
    rows: Mapping[int, list[int]] | None = None,
) -> dict[int, int]:
    """How far east each node lies. `spots` gives the spot within its node from which each dart leaves; `room` the
    room that an eastward dart's track needs. `lax`: as if no track had to rise by more than one lane.
    `rows` are the nodes of each lane, unless they keep the order of `lanes`. Raises ValueError where they cannot."""
    index = {node: place for place, node in enumerate(lanes.order)}
    extents = {node: extent_of(net, lanes, spots, node, lax) for node in lanes.order}
    rows = rows or rows_of(lanes.order, extents)
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


def rows_of(order: list[int], extents: Mapping[int, Extent]) -> dict[int, list[int]]:
    """The nodes of each lane from west to east, in that order."""
    rows: defaultdict[int, list[int]] = defaultdict(list)
    for node in order:
        for lane in extents[node]:
            rows[lane].append(node)
    return rows


def sorted_rows(
    order: list[int],
    extents: Mapping[int, Extent],
    east: Mapping[int, int],
    home: Mapping[int, int],
    first: Collection[tuple[int, int]] = (),
) -> dict[int, list[int]]:
    """The nodes of each lane as they would lie if each lay so far east. Two nodes that share several lanes have one
    order in all of them, that in the lane of one of their pieces (`home`) where they can. `first` are pairs of which
    the first lies west of the second whatever else is said."""

    def at(node: int, lane: int) -> int:
        return 2 * east[node] + sum(extents[node][lane])

    def compare(one: int, other: int) -> int:
        if (one, other) in first or (other, one) in first:
            return -1 if (one, other) in first else 1
        homes = [lane for lane in (home[one], home[other]) if lane in extents[one] and lane in extents[other]]
        lanes = homes or sorted(extents[one].keys() & extents[other].keys())[:1]
        return sum(at(one, lane) - at(other, lane) for lane in lanes)

    return {lane: sorted(row, key=cmp_to_key(compare)) for lane, row in rows_of(order, extents).items()}


def _joined(net: Net, lanes: Lanes) -> dict[tuple[int, int, int], int]:
    return {(net.at[dart], net.at[dart ^ 1], lane): dart for dart, lane in lanes.of.items()}


def extent_of(net: Net, lanes: Lanes, spots: dict[int, NodeSpot], node: int, lax: bool = False) -> Extent:
    """What a node takes up in each lane that it reaches."""
    extent: Extent = {}
    for dart in net.nodes[node].around:
        spot, lane, way = spots[dart], lane_of(lanes, dart), 1 if net.goes_east(dart) else -1
        level = net.nodes[node].kind == "cap" or net.piece.get(dart) in net.apexes | net.tall.keys()
        run = 0 if level else RUN
        for between in (spot.lane, lane) if lax else range(min(spot.lane, lane), max(spot.lane, lane) + 1):
            rise = abs(between - spot.lane)
            _widen(extent, between, spot.east + way * run * (min(rise, 1) if lax else rise))
        if lane == spot.lane or net.piece.get(dart) in net.tall:
            _widen(extent, lane, spot.east + way * own_reach(net, dart))
    for dart in net.crossovers:
        if net.at[dart] == node:
            west, east = spots[dart], spots[dart ^ 1]
            for between in range(min(west.lane, east.lane), max(west.lane, east.lane) + 1):
                _widen(extent, between, west.east + RUN * abs(between - west.lane))
    if node in net.scissors.values():
        own = [spots[dart] for dart in net.nodes[node].around]
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
    extent[lane] = min(west, east), max(far, east)
