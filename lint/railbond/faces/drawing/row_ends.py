"""Where the rows of a folded part end, in an order in which its nodes are gone through."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections import Counter
from collections.abc import Mapping, Sequence
from itertools import accumulate
from math import inf
from typing import NamedTuple

MOST = 7.0, 14.0, 28.0, inf
"""What a cut may cost: three tracks that go straight on; more only where rows are far too long else."""
LONGEST = 2.5
"""How many times as long as it should be a row may be, rather than that more tracks are cut."""
FAR = 4.0
"""Up to how many times as long rows are looked at one by one."""
UNEVEN = 16.0
"""What it costs that a row has twice the pieces that it should have."""

Tie = tuple[int, int, float]
"""Two nodes, and what it costs to cut the track between them."""


class FoldedOrder(NamedTuple):
    """The row of each node, and what the cuts between rows cost."""

    row: dict[int, int]
    cost: float


def rows_of(
    orders: Sequence[Sequence[int]],
    pieces: Mapping[int, int],
    ties: Sequence[Tie],
    beside: Mapping[int, list[int]],
    count: int,
) -> dict[int, int] | None:
    """The row of each node when the best of some orders is cut into about `count` rows; None where no cut is found.
    `pieces` says of each node how much it adds to the length of its row."""
    each = sum(pieces.values()) / count
    best = None
    for most in MOST:
        cut = [_cut_up(order, pieces, ties, beside, each, most) for order in orders]
        best = min((one for one in cut if max(one.row.values())), key=lambda one: one.cost, default=None)
        if best and _longest(best, pieces) <= LONGEST * each:
            break
    return best.row if best else None


def _longest(cut: FoldedOrder, pieces: Mapping[int, int]) -> int:
    held: Counter[int] = Counter()
    for node, row in cut.row.items():
        held[row] += pieces[node]
    return max(held.values())


def _cut_up(
    order: Sequence[int],
    pieces: Mapping[int, int],
    ties: Sequence[Tie],
    beside: Mapping[int, list[int]],
    each: float,
    most: float,
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
    done = list(accumulate(pieces[node] for node in order))
    cuts = _places(costs, done, each, most)
    row = {node: bisect_left(cuts, place) for place, node in enumerate(order)}
    for node, there in beside.items():
        if len(there) == 1 and len(order) > 2:
            row[node] = row[there[0]]
    return FoldedOrder(row, sum(costs[cut] for cut in cuts) / max(len(cuts), 1))


def _places(costs: list[float], done: list[int], each: float, most: float) -> list[int]:
    """The places after which a row ends: together they cost least, with what rows are longer or shorter than each
    should be. No row has less than half of that."""
    best: list[tuple[float, int, int]] = [(0.0, -1, -1)]
    """What the rows up to a place cost, that place, and which of these was the place before."""
    behind = _Behind(each)
    for place, pieces in enumerate(done):
        if costs[place] <= most and (found := behind.reached(pieces)) is not None:
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
        self._each = each = max(each, 1.0)  # a few pieces with long names may be more rows than pieces
        self._uneven = [UNEVEN * ((held - each) / each) ** 2 for held in range(int(FAR * each) + 1)]
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
        first, stop = bisect_left(ended, pieces - FAR * self._each), bisect_right(ended, pieces - self._each / 2)
        rows = zip(ended[first:stop], self._costs[first:stop], self._index[first:stop], strict=True)
        found = [(cost + self._uneven[pieces - before], index) for before, cost, index in rows]
        if first:
            held = pieces - ended[first - 1]
            found.append(
                (self._costs[first - 1] + UNEVEN * ((held - self._each) / self._each) ** 2, self._index[first - 1])
            )
        return min(found, default=None)
