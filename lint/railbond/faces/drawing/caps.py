"""Puts a cap wherever track doubles back, after which every dart pair runs from west to east; and draws the two
turnouts of a crossover together."""

from __future__ import annotations

from collections.abc import Iterable

from .bridges import split
from .facing import is_straight
from .net import Net, Node


def cap(net: Net, turned: dict[int, int]) -> None:
    """`turned` holds the half turns to the left along each even dart."""
    for index, strand in enumerate(net.strands):
        for dart in list(strand.darts):
            half_turns = turned[dart] if dart in turned else -turned[dart ^ 1]
            for _ in range(abs(half_turns)):
                dart = _double_back(net, index, dart, left=half_turns > 0)


def _double_back(net: Net, index: int, dart: int, left: bool) -> int:
    east = net.goes_east(dart)
    at = net.add(Node("cap", ""))
    on = split(net, index, dart, at)
    node = net.nodes[at]
    if east:
        node.west = [dart ^ 1, on] if left else [on, dart ^ 1]
    else:
        node.east = [on, dart ^ 1] if left else [dart ^ 1, on]
    return on


def join_crossovers(net: Net) -> None:
    """Makes one node of the two turnouts that a crossover's track joins, where nothing forbids it."""
    for strand in net.strands:
        if len(strand.darts) == 1 and len(strand.chain) < 2:
            dart = strand.darts[0] if net.goes_east(strand.darts[0]) else strand.darts[0] ^ 1
            if _aside(net, dart) and _aside(net, dart ^ 1) and _opens(net, dart) and not another_way(net, dart):
                take_in(net, dart, 1 if net.nodes[net.at[dart]].east.index(dart) else -1)


def _aside(net: Net, dart: int) -> bool:
    node = net.nodes[net.at[dart]]
    return node.kind == "piece" and bool(node.straight) and not is_straight(net, dart)


def _opens(net: Net, dart: int) -> bool:
    """Whether the straight tracks of the two lie on the two sides of the track between them."""
    one, other = net.nodes[net.at[dart]].east, net.nodes[net.at[dart ^ 1]].west
    upper, lower = dart == one[-1], dart ^ 1 == other[0]
    return upper == lower and (upper or (dart == one[0] and dart ^ 1 == other[-1]))


def another_way(net: Net, dart: int) -> bool:
    """Whether track leads eastwards from a dart's node to its far end by another way: then the two stay apart."""
    goal, start = net.at[dart ^ 1], net.at[dart]
    if goal == start:
        return True
    seen = {start}
    queue = [start]
    for here in queue:
        for one in net.nodes[here].east:
            there = net.at[one ^ 1]
            if there == goal and one != dart:
                return True
            if there not in seen and there != goal:
                seen.add(there)
                queue.append(there)
    return False


def take_in(net: Net, dart: int, rises: int, within: Iterable[int] = ()) -> None:
    """Makes one node of the two that an eastward dart joins; `rises` is 1 where the eastern piece lies above, or -1.
    `within` are the darts that either of them has within itself."""
    here, there = net.at[dart], net.at[dart ^ 1]
    one, other = net.nodes[here], net.nodes[there]
    for leaving in (*other.east, *other.west, *within):
        net.at[leaving] = here
    before, after = one.east.index(dart), other.west.index(dart ^ 1)
    one.east = one.east[:before] + other.east + one.east[before + 1 :]
    one.west = other.west[:after] + one.west + other.west[after + 1 :]
    one.straight += other.straight
    other.east, other.west, other.straight = [], [], []
    net.crossovers[dart] = rises
