"""Folds track that is too long for one line into rows, as a person does who has a wall of so many feet.

A row ends where the fewest tracks run on, on plain track alone. Each such track is cut in the picture, not on the
railroad: both its ends bear the same letter. What is minimized is the number of tracks that are cut at one place,
with tracks that go straight on before others, in two orders in which the nodes are gone through: always the one that
is tied most to those before it, and branch by branch. A heuristic: other orders may cut fewer.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections import defaultdict
from collections.abc import Mapping
from heapq import heappop, heappush
from itertools import accumulate
from typing import NamedTuple

from railbond.layout.model import Layout

from .bridges import split
from .facing import is_straight, length
from .net import Fold, Net, Node, Strand

MOST = 7.0
"""What a cut may cost: three tracks that go straight on."""
UNEVEN = 16.0
"""What it costs that a row has twice the pieces that it should have."""
SHORT = 0.6
"""Meters of track that is rather not cut."""


class FoldedOrder(NamedTuple):
    """The row of each node, and what the cuts between rows cost."""

    row: dict[int, int]
    cost: float


def fold(net: Net, layout: Layout, rows: Mapping[int, int]) -> None:
    """Cuts parts of the net into rows; `rows` says how many by the first node of a part."""
    for nodes, strands in list(net.components()):
        if rows.get(nodes[0], 1) > 1 and (row := _rows(net, layout, nodes, strands, rows[nodes[0]])):
            net.rows |= {node: (nodes[0], one) for node, one in row.items()}
            for index in strands:
                if len({row[node] for node in _ends(net, index)}) > 1:  # never a bare joint: it costs too much
                    _cut(net, layout, index)


def letters(number: int) -> str:
    """A to Z, then AA and on."""
    first, last = divmod(number, 26)
    return (letters(first - 1) if first else "") + chr(ord("A") + last)


def _ends(net: Net, index: int) -> tuple[int, int]:
    darts = net.strands[index].darts
    return net.at[darts[0]], net.at[darts[-1] ^ 1]


def _rows(net: Net, layout: Layout, nodes: list[int], strands: list[int], count: int) -> dict[int, int] | None:
    """The row of each node, from 0 for the one in which track begins to the east."""
    ties = [(*_ends(net, index), _cost(net, layout, index)) for index in strands]
    ties = [one for one in ties if one[0] != one[1]]
    beside: dict[int, list[int]] = {node: [] for node in nodes}
    for one, other, _ in ties:
        beside[one].append(other)
        beside[other].append(one)
    start = _farthest(beside, _farthest(beside, nodes[0]))
    orders = _closest(ties, beside, start), _depth(beside, start)
    found = [_cut_up(net, order, ties, beside, count) for order in orders]
    best = min((one for one in found if max(one.row.values())), key=lambda one: one.cost, default=None)
    if best is None:
        return None
    last, east = max(best.row.values()), 0
    for index in strands:
        one, other = (best.row[node] for node in _ends(net, index))
        if one != other:
            east += 1 if net.goes_east(net.strands[index].darts[0]) == (one < other) else -1
    return best.row if east >= 0 else {node: last - row for node, row in best.row.items()}


def _cost(net: Net, layout: Layout, index: int) -> float:
    strand = net.strands[index]
    if not strand.chain:
        return 100.0
    aside = sum(not is_straight(net, dart) for dart in (strand.darts[0], strand.darts[-1] ^ 1))
    return 2.0 + 1.5 * aside + (length(layout, strand) < SHORT)


def _farthest(beside: Mapping[int, list[int]], start: int) -> int:
    """A node that is farthest from another."""
    seen, level, last = {start}, [start], start
    while level:
        last = level[0]
        fresh = dict.fromkeys(there for here in level for there in beside[here] if there not in seen)
        seen |= fresh.keys()
        level = list(fresh)
    return last


def _closest(ties: list[tuple[int, int, float]], beside: Mapping[int, list[int]], start: int) -> list[int]:
    """The nodes so that each is tied more to those before it, and less to those after it, than any other would be."""
    weight: defaultdict[tuple[int, int], float] = defaultdict(float)
    whole: defaultdict[int, float] = defaultdict(float)
    for one, other, cost in ties:
        for here, there in ((one, other), (other, one)):
            weight[here, there] += cost
            whole[here] += cost
    tied: defaultdict[int, float] = defaultdict(float)
    order: dict[int, None] = {}
    queue = [(0.0, 0, start)]
    while queue:
        _, _, here = heappop(queue)
        if here not in order:
            order[here] = None
            for there in dict.fromkeys(beside[here]):
                if there not in order:
                    tied[there] += weight[here, there]
                    heappush(queue, (whole[there] - 2 * tied[there], -len(order), there))
    return list(order)


def _depth(beside: Mapping[int, list[int]], start: int) -> list[int]:
    """The nodes branch by branch, the smaller branch first."""
    above: dict[int, int | None] = {start: None}
    order = []
    stack = [start]
    while stack:
        here = stack.pop()
        order.append(here)
        fresh = [there for there in beside[here] if there not in above]
        above |= dict.fromkeys(fresh, here)
        stack += dict.fromkeys(fresh)
    size = dict.fromkeys(order, 1)
    for node in reversed(order):
        if (up := above[node]) is not None:
            size[up] += size[node]
    order, stack = [], [start]
    while stack:
        here = stack.pop()
        order.append(here)
        below = dict.fromkeys(there for there in beside[here] if above[there] == here)
        stack += sorted(below, key=lambda node: -size[node])
    return order


def _cut_up(
    net: Net, order: list[int], ties: list[tuple[int, int, float]], beside: Mapping[int, list[int]], count: int
) -> FoldedOrder:
    """Cuts an order of nodes about every so many pieces, each time where it costs least."""
    rank = {node: place for place, node in enumerate(order)}
    steps = [0.0] * len(order)
    for one, other, cost in ties:
        if min(len(beside[one]), len(beside[other])) > 1:  # an end of track goes with what it ends
            first, last = sorted((rank[one], rank[other]))
            steps[first] += cost
            steps[last] -= cost
    costs = list(accumulate(steps))
    done = list(accumulate(int(net.nodes[node].kind == "piece") for node in order))
    cuts = _places(costs, done, done[-1] / count)
    row = {node: bisect_left(cuts, place) for place, node in enumerate(order)}
    for node, there in beside.items():
        if len(there) == 1 and len(order) > 2:
            row[node] = row[there[0]]
    return FoldedOrder(row, sum(costs[cut] for cut in cuts) / max(len(cuts), 1))


def _places(costs: list[float], done: list[int], each: float) -> list[int]:
    """The places after which a row ends: together they cost least, with what rows are longer or shorter than each
    should be. No row has less than half of that."""
    best: list[tuple[float, int, int]] = [(0.0, -1, -1)]
    """What the rows up to a place cost, that place, and which of these was the place before."""
    behind = _Behind(each)
    for place, pieces in enumerate(done):
        if costs[place] <= MOST and (found := behind.reached(pieces)) is not None:
            cost = found[0] + costs[place]
            behind.ends(pieces, cost, len(best))
            best.append((cost, place, found[1]))
    cuts = []
    here = best[-1][2] if best[-1][1] == len(done) - 1 else 0
    while here > 0:
        cuts.append(best[here][1])
        here = best[here][2]
    return cuts[::-1]


class _Behind:
    """By how many pieces rows can have ended so far: what is the least that it costs, and where that was."""

    def __init__(self, each: float) -> None:
        self._each = each
        self._uneven = [UNEVEN * ((held - each) / each) ** 2 for held in range(int(4 * each) + 1)]
        self._pieces, self._costs, self._index = [0], [0.0], [0]
        self._last: tuple[int, tuple[float, int] | None] = (-1, None)

    def ends(self, pieces: int, cost: float, index: int) -> None:
        """Takes up that a row may end after so many pieces, of which there are never fewer than before."""
        if self._pieces[-1] != pieces:
            self._pieces.append(pieces)
            self._costs.append(cost)
            self._index.append(index)
        elif cost < self._costs[-1]:
            self._costs[-1], self._index[-1] = cost, index

    def reached(self, pieces: int) -> tuple[float, int] | None:
        """The least that it costs to end a row after so many pieces, and where the row before it ended: after at most
        those of four rows, or the first place before these."""
        if self._last[0] != pieces:
            self._last = pieces, self._found(pieces)
        return self._last[1]

    def _found(self, pieces: int) -> tuple[float, int] | None:
        ended = self._pieces
        first, stop = bisect_left(ended, pieces - 4 * self._each), bisect_right(ended, pieces - self._each / 2)
        rows = zip(ended[first:stop], self._costs[first:stop], self._index[first:stop], strict=True)
        found = [(cost + self._uneven[pieces - before], index) for before, cost, index in rows]
        if first:
            held = pieces - ended[first - 1]
            found.append(
                (self._costs[first - 1] + UNEVEN * ((held - self._each) / self._each) ** 2, self._index[first - 1])
            )
        return min(found, default=None)


def _cut(net: Net, layout: Layout, index: int) -> None:
    """Cuts a strand in the middle of its longest piece, which lies in both rows then."""
    strand = net.strands[index]
    lengths = [layout.pieces[entered.piece].template.length for entered in strand.chain]
    middle = max(range(len(lengths)), key=lambda one: (lengths[one], -abs(2 * one + 1 - len(lengths))), default=0)
    name = letters(len(net.folds))
    one, other = net.add(Node("fold", name)), net.add(Node("fold", name))
    out = strand.darts[0]
    on = split(net, index, out, other)
    net.at[out ^ 1] = one
    (net.nodes[one].west if net.goes_east(out) else net.nodes[one].east).append(out ^ 1)
    (net.nodes[other].east if not net.goes_east(on ^ 1) else net.nodes[other].west).append(on)
    chain = strand.chain
    net.folds.append(Fold(name, index, len(net.strands)))
    net.strands[index] = Strand([out], chain[: middle + 1], strand.start, strand.last, 1)
    net.strands.append(Strand([on], chain[middle:], strand.start, strand.last, -1))
    for node, near in ((one, net.at[out]), (other, net.at[on ^ 1])):
        net.rows[node] = net.rows[near]
