"""Which way round each node lies, so that track doubles back as seldom as it can."""

from __future__ import annotations

from collections.abc import Iterable

from railbond.layout.model import Layout

from .net import Net, Strand


def face(net: Net, layout: Layout) -> None:
    """Turns nodes end for end until plain track runs from east to west wherever the track itself allows it.

    The strands that matter most are asked first: joints, then straight track, then short track. The first piece
    of each part of the plan keeps its looking direction to the east.
    """
    sides = _Sides(len(net.nodes))
    order = sorted(net.strands, key=lambda strand: _matters(net, layout, strand))
    for strand in order:
        out, back = strand.darts[0], strand.darts[-1] ^ 1
        sides.join(net.at[out], net.at[back], net.goes_east(out) == net.goes_east(back))
    for nodes, strands in net.components():
        first = _first(net, layout, strands)
        turned = [node for node in nodes if sides.turned(node) != (sides.turned(first[0]) ^ first[1])]
        for node in turned:
            net.nodes[node].turn()


def _matters(net: Net, layout: Layout, strand: Strand) -> tuple[int, float]:
    """The less, the sooner a strand is asked."""
    ends = (strand.darts[0], strand.darts[-1] ^ 1)
    aside = sum(not is_straight(net, dart) for dart in ends)
    return (aside + 1 if strand.chain else 0), length(layout, strand)


def is_straight(net: Net, dart: int) -> bool:
    """Whether track goes straight on from a dart through its node."""
    node = net.nodes[net.at[dart]]
    return node.even or not node.straight or any(dart in pair for pair in node.straight)


def length(layout: Layout, strand: Strand) -> float:
    """Meters of a strand's plain track."""
    return sum(layout.pieces[entered.piece].template.length for entered in strand.chain)


def _first(net: Net, layout: Layout, strands: Iterable[int]) -> tuple[int, bool]:
    """A node, and whether it must be turned for the part's first piece to look east."""
    order = {name: number for number, name in enumerate(layout.pieces)}
    found = [
        (order[entered.piece], net.strands[index], layout.pieces[entered.piece].template.ends[entered.end].leaves)
        for index in strands
        for entered in net.strands[index].chain
    ]
    if not found:
        return net.at[net.strands[next(iter(strands))].darts[0]], False
    _, strand, against = min(found, key=lambda one: one[0])
    return net.at[strand.darts[0]], net.goes_east(strand.darts[0]) == against


class _Sides:
    """Union-find in which each node also knows whether it lies against the root of its set."""

    def __init__(self, count: int) -> None:
        self.above = list(range(count))
        self.against = [False] * count

    def root(self, node: int) -> tuple[int, bool]:
        against = False
        while self.above[node] != node:
            against ^= self.against[node]
            node = self.above[node]
        return node, against

    def turned(self, node: int) -> bool:
        return self.root(node)[1]

    def join(self, one: int, other: int, against: bool) -> None:
        """Asks that two nodes lie against each other, or the same way; an earlier wish stands."""
        (here, turned), (there, turned_too) = self.root(one), self.root(other)
        if here != there:
            self.above[there], self.against[there] = here, against ^ turned ^ turned_too
