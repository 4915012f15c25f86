"""Straight lines, and which of them lie above which because of the pieces between them."""

from __future__ import annotations

from collections.abc import Collection, Mapping

from .net import Net
from .settling import Least, Pull


def numbered_lines(net: Net, eastward: Collection[int]) -> dict[int, int]:
    """The number of the straight line that each eastward dart is on."""
    there = set(eastward)
    before = {
        east: west ^ 1 for node in net.nodes for west, east in node.straight if east in there and west ^ 1 in there
    }
    head: dict[int, int] = {}
    for dart in eastward:
        chain = [dart]
        while chain[-1] in before and chain[-1] not in head:
            chain.append(before[chain[-1]])
        head |= dict.fromkeys(chain, head.get(chain[-1], chain[-1]))
    number = {first: place for place, first in enumerate(dict.fromkeys(head[dart] for dart in eastward))}
    return {dart: number[head[dart]] for dart in eastward}


def pulls_of(net: Net, line: Mapping[int, int], nodes: Collection[int]) -> list[Pull]:
    """Lines that touch one node, the lower before the upper: they would lie near each other."""
    pulls = []
    for node in nodes:
        for side in (net.nodes[node].west, net.nodes[node].east):
            own = [line[dart] if dart in line else line[dart ^ 1] for dart in side if dart in line or dart ^ 1 in line]
            pulls += [(lower, upper, 1) for lower, upper in zip(own, own[1:], strict=False)]
    return pulls


def rises_of(net: Net, line: Mapping[int, int], wide: Mapping[int, int]) -> list[Least]:
    """From line to line: how far above one another tracks lie at least that a crossover, a scissors crossover or a
    ladder's rung joins. `wide` says how many lanes a crossover rises."""
    rises: list[Least] = []
    for node in map(net.nodes.__getitem__, net.scissors.values()):
        pairs = sorted(node.straight, key=lambda pair: node.east.index(pair[1]))
        if all(east in line for _, east in pairs):
            rises.append((line[pairs[0][1]], line[pairs[1][1]], 2))
    straight = {net.piece.get(east): east for node in net.nodes for _, east in node.straight if east in line}
    straight |= {piece: dart if dart in line else dart ^ 1 for piece, dart in net.level.items()}
    for lead, (piece, up) in net.leads.items():
        pair = [lead if lead in line else lead ^ 1, straight[piece]]
        if all(one in line for one in pair):
            lower, upper = (line[one] for one in pair[::up])
            rises.append((lower, upper, 1))
    for dart, up in net.crossovers.items():
        known = [straight.get(net.piece[one]) for one in (dart, dart ^ 1)]
        numbers = [line[one] for one in known if one is not None and one in line]
        if len(numbers) == 2:
            lower, upper = numbers[::up]
            rises.append((lower, upper, max(wide.get(dart, 1), 1)))
    return rises
