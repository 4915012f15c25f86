"""Draws a wye as a triangle: its third turnout at the apex, with a leg to each side and its points to the top.

Of the three sides of a wye one must double back. Where the turnout at one end of that side stands opposite a side that
need not, its leg is led out to the other side instead, and the half turn is made within the turnout.
"""

from __future__ import annotations

from .facing import is_straight
from .net import Net, Node


def raise_apexes(net: Net, turned: dict[int, int]) -> None:
    """Moves an arm of the apex of each wye; `turned` holds the half turns to the left along each even dart."""
    joined = {(net.at[strand.darts[0]], net.at[strand.darts[-1] ^ 1]) for strand in net.strands}
    for strand in net.strands:
        if len(strand.darts) == 1 and abs(turned.get(strand.darts[0], 0)) == 1:
            out = strand.darts[0]
            even = {one: net.nodes[net.at[one]].even for one in (out, out ^ 1)}
            for dart in sorted(even, key=lambda one: (not even[one], is_straight(net, one))):
                left = turned[out] if dart == out else -turned[out]
                if _is_apex(net, dart, joined) and _is_outer(net, dart, left):
                    _raise(net, dart, left)
                    turned[out] = 0
                    break


def _is_apex(net: Net, dart: int, joined: set[tuple[int, int]]) -> bool:
    """Whether a dart leaves a turnout by a frog end, and its other leg and this one's far end lead to one place;
    `joined` are the two nodes of each strand."""
    node = net.nodes[net.at[dart]]
    side = node.east if dart in node.east else node.west
    if node.kind != "piece" or len(node.around) != 3 or len(side) != 2:
        return False
    far, other = net.at[dart ^ 1], net.at[next(one for one in side if one != dart) ^ 1]
    distinct = len({far, other, net.at[dart]}) == 3
    return distinct and ((far, other) in joined or (other, far) in joined)


def _is_outer(net: Net, dart: int, half_turn: int) -> bool:
    """Whether a dart can be led out of the other side past no other one."""
    node = net.nodes[net.at[dart]]
    if dart in node.east:
        return dart == node.east[-1 if half_turn > 0 else 0]
    return dart == node.west[0 if half_turn > 0 else -1]


def _raise(net: Net, dart: int, half_turn: int) -> None:
    """Leads a dart out of the other side: over the top or the bottom, whichever its half turn asks for."""
    node = net.nodes[net.at[dart]]
    source, target = (node.east, node.west) if dart in node.east else (node.west, node.east)
    source.remove(dart)
    top = (half_turn > 0) == (target is node.west)
    target.insert(len(target) if top else 0, dart)
    node.straight = [_pair(node, source[0], dart)]
    net.apexes.add(node.name)


def _pair(node: Node, one: int, other: int) -> tuple[int, int]:
    """The two legs, the western one first: they lie in one lane, and the points leave above or below it."""
    return (one, other) if one in node.west else (other, one)
