"""Folds track that is too long for one line into rows, as a person does who has a wall of so many feet.

A row ends where the fewest tracks run on, on plain track alone. Each such track is cut in the picture, not on the
railroad: both its ends bear the same letter. What is minimized is the number of tracks that are cut at one place,
with tracks that go straight on before others, in two orders in which the nodes are gone through: always the one that
is tied most to those before it, and branch by branch. A heuristic: other orders may cut fewer.
"""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Mapping
from heapq import heappop, heappush

from railbond.layout.model import Layout

from .bridges import root, split
from .facing import is_straight, length
from .net import Fold, Net, Node, Strand
from .row_ends import rows_of

SHORT = 0.6
"""Meters of track that is rather not cut."""


def fold(net: Net, layout: Layout, rows: Mapping[int, int]) -> None:
    """Cuts parts of the net into rows; `rows` says how many by some node of a part."""
    for nodes, strands in list(net.components()):
        count = max(rows.get(node, 1) for node in nodes)
        if count > 1 and (row := _rows(net, layout, nodes, strands, count)):
            net.rows |= {node: (nodes[0], one) for node, one in row.items()}
            for index in strands:
                if len({row[node] for node in _ends(net, index)}) > 1:
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
    whole = _uncut(net, strands)
    ties = []
    for index in strands:
        one, other = (whole.get(end, end) for end in _ends(net, index))
        if one != other:
            ties.append((one, other, _cost(net, layout, index)))
    pieces: Counter[int] = Counter()
    for node in nodes:
        pieces[whole.get(node, node)] += net.nodes[node].kind == "piece"
    beside: dict[int, list[int]] = {node: [] for node in pieces}
    for one, other, _ in ties:
        beside[one].append(other)
        beside[other].append(one)
    start = _farthest(beside, _farthest(beside, next(iter(pieces))))
    found = rows_of([_closest(ties, beside, start), _depth(beside, start)], pieces, ties, beside, count)
    if found is None:
        return None
    row = {node: found[whole.get(node, node)] for node in nodes}
    last, east = max(row.values()), 0
    for index in strands:
        one, other = (row[node] for node in _ends(net, index))
        if one != other:
            east += 1 if net.goes_east(net.strands[index].darts[0]) == (one < other) else -1
    return row if east >= 0 else {node: last - one for node, one in row.items()}


def _uncut(net: Net, strands: list[int]) -> dict[int, int]:
    """Of nodes that bare joints hold together, the one that stands for all: no joint is ever cut in the picture."""
    above: dict[int, int] = {}
    for index in strands:
        if not net.strands[index].chain:
            one, other = (root(above, end) for end in _ends(net, index))
            if one != other:
                above[other] = one
    return {node: root(above, node) for node in above}


def _cost(net: Net, layout: Layout, index: int) -> float:
    strand = net.strands[index]
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
