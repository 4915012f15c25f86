"""Where each piece lies within its node, once the lanes are known: a node of two turnouts holds two pieces."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable
from typing import NamedTuple

from .lanes import Lanes
from .net import Net
from .scale import RUN


class NodeSpot(NamedTuple):
    """A place of a node: how far east of it, and in which lane."""

    east: int
    lane: int


def spots(net: Net, lanes: Lanes, darts: Iterable[int]) -> dict[int, NodeSpot]:
    """The spot from which each dart leaves."""
    darts = list(darts)
    pieces: defaultdict[str, list[int]] = defaultdict(list)
    found: dict[int, NodeSpot] = {}
    for dart in darts:
        if dart in net.piece:
            pieces[net.piece[dart]].append(dart)
        else:
            found[dart] = NodeSpot(0, _lane(net, lanes, net.nodes[net.at[dart]].around))
    lane = {piece: _lane(net, lanes, own) for piece, own in pieces.items()}
    east = _offsets(net, lane)
    for piece, own in pieces.items():
        found |= dict.fromkeys(own, NodeSpot(east.get(piece, 0), lane[piece]))
    return found


def lane_of(lanes: Lanes, dart: int) -> int:
    return lanes.of[dart] if dart in lanes.of else lanes.of[dart ^ 1]


def is_laned(lanes: Lanes, dart: int) -> bool:
    """Whether a dart runs in a lane; a crossover's does not: it leads from one lane straight to another."""
    return dart in lanes.of or dart ^ 1 in lanes.of


def _lane(net: Net, lanes: Lanes, darts: Iterable[int]) -> int:
    """The lane in which a piece lies: that of its straight track, or of its lone dart on one side."""
    own = [dart for dart in darts if is_laned(lanes, dart)]
    if own[0] in net.piece and (level := net.level.get(net.piece[own[0]])) is not None:
        return lane_of(lanes, level)
    node = net.nodes[net.at[own[0]]]
    for pair in node.straight:
        if pair[0] in own:
            return lane_of(lanes, pair[0])
    west = [dart for dart in own if dart in node.west]
    east = [dart for dart in own if dart in node.east]
    side = min((west, east), key=lambda one: (not one, len(one)))
    return lane_of(lanes, side[len(side) // 2])


def _offsets(net: Net, lane: dict[str, int]) -> dict[str, int]:
    """How far east of the first piece of its node each piece of a crossover lies."""
    beside: defaultdict[str, list[tuple[str, int]]] = defaultdict(list)
    for dart in net.crossovers:
        west, east = net.piece[dart], net.piece[dart ^ 1]
        if west in lane:
            far = RUN * abs(lane[west] - lane[east])
            beside[west].append((east, far))
            beside[east].append((west, -far))
    found: dict[str, int] = {}
    for stem, node in net.scissors.items():
        if f"{stem}-a1" in lane:
            found |= _scissored(net, stem, node, lane)
    for first in beside:
        if first not in found:
            found[first] = 0
            queue = [first]
            for here in queue:
                fresh = [(there, far) for there, far in beside[here] if there not in found]
                found |= {there: found[here] + far for there, far in fresh}
                queue += [there for there, _ in fresh]
    return found


def _scissored(net: Net, stem: str, node: int, lane: dict[str, int]) -> dict[str, int]:
    """How far east of the middle each turnout of a scissors crossover lies."""
    first = next(dart for dart in net.nodes[node].around if net.piece[dart] == f"{stem}-a1")
    way = 1 if first in net.nodes[node].west else -1
    rise = abs(lane[f"{stem}-a1"] - lane[f"{stem}-b1"])
    names = {net.piece[dart] for dart in net.nodes[node].around}
    return {name: way * RUN * rise // 2 * net.aside[name] for name in names}
