"""Makes a part of the drawing as small as it finds: lanes drawn together and nodes spread anew, in turns.

What is minimized is the area that the part takes; a step is taken only where it makes that smaller and no track lies
across another. Which lanes can be shared hangs on how far track reaches from west to east, and that on the lanes: so
the search is a heuristic, while each of its steps by itself is the least of its kind (see `settling`).
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from functools import partial
from typing import NamedTuple

from .compact import Compacting, in_the_way
from .extents import Extent, Extents
from .lanes import Lanes
from .net import Net
from .scale import LANE, RUN
from .spots import NodeSpot, spots
from .spread import sorted_rows, spread

Room = Callable[..., int]

ROUNDS, TRIES = 6, 8
"""How often it goes through all, and how often it tries each time to put right what lies in the way."""
MANY, FEW_ROUNDS, FEW_TRIES = 150, 2, 3
"""The same of more nodes than these."""


class LaidNet(NamedTuple):
    """The lanes, where in its node each dart leaves, and how far east each node lies."""

    lanes: Lanes
    spots: dict[int, NodeSpot]
    east: dict[int, int]

    @property
    def area(self) -> int:
        height = (max(self.lanes.of.values(), default=0) + 2) * LANE
        return height * (max(self.east.values()) - min(self.east.values()) + 2 * LANE)


def drawn_together(
    net: Net, extents: Extents, lanes: Lanes, darts: list[int], room: Room, wide: Mapping[int, int]
) -> LaidNet:
    """`room` gives what a dart's track needs for lanes and spots, `wide` how many lanes crossovers rise."""
    search = _Search(net, extents, darts, room, wide)
    best = search.laid(lanes)
    rounds = ROUNDS if len(lanes.order) < MANY else FEW_ROUNDS
    for _ in range(1 if search.is_row else rounds):
        better = search.smaller(best, lax=True) or search.smaller(best) or search.smaller(best, run=0)
        if not better:
            break
        best = better
    return best


class _Search:
    def __init__(self, net: Net, extents: Extents, darts: list[int], room: Room, wide: Mapping[int, int]) -> None:
        self.net, self.extents, self.darts, self.room, self.wide = net, extents, darts, room, wide
        self.is_row = any(node.kind == "fold" for node in net.nodes)
        """What goes on in other rows is part of a large drawing: its rows hardly get smaller after the first time."""

    def laid(self, lanes: Lanes) -> LaidNet:
        places = spots(self.net, lanes, self.darts)
        extents = self.extents.of(lanes.order, lanes, places)
        return LaidNet(lanes, places, spread(self.net, lanes, extents, partial(self.room, lanes, places)))

    def smaller(self, now: LaidNet, lax: bool = False, run: int = RUN) -> LaidNet | None:
        """A layout that takes less room. `lax`: found from where track would lie if it had to rise nowhere by more
        than one lane, which is where it does lie once it is drawn together."""
        net, (lanes, places, east) = self.net, now
        if lax:
            extents = self.extents.of(lanes.order, lanes, places, lax=True)
            east = spread(net, lanes, extents, partial(self.room, lanes, places, lax=True))
        order = sorted(lanes.order, key=east.__getitem__)
        compacting = Compacting(net, lanes, places, east, self.wide, run)
        # Track runs from west to east whatever else is asked of its two ends, so that none of it bends back.
        kept: set[tuple[int, int]] = set()
        first = {(net.at[dart], net.at[dart ^ 1]) for dart in lanes.of}
        for _ in range(FEW_TRIES if self.is_row or len(order) >= MANY else TRIES):
            fresh = Lanes(compacting.lanes(kept), order)
            there = spots(net, fresh, self.darts)
            extents = self.extents.of(order, fresh, there)
            home = {net.at[dart]: there[dart].lane for dart in self.darts}
            rows = sorted_rows(order, extents, east, home, first)
            trouble = in_the_way(net, fresh, rows)
            if not trouble:
                return self._spread(now, fresh, there, extents, rows)
            known = len(kept) + len(first)
            for dart, node in trouble:
                if ahead := self._ahead(extents, dart, node):
                    first.add(ahead)
                else:
                    kept.add((dart, node))
            if len(kept) + len(first) == known:
                break
        return None

    def _spread(
        self,
        now: LaidNet,
        fresh: Lanes,
        there: dict[int, NodeSpot],
        extents: Mapping[int, Extent],
        rows: Mapping[int, list[int]],
    ) -> LaidNet | None:
        try:
            east = spread(self.net, fresh, extents, partial(self.room, fresh, there), rows)
        except ValueError:  # the nodes of two lanes wait for one another
            return None
        found = LaidNet(Lanes(fresh.of, sorted(fresh.order, key=east.__getitem__)), there, east)
        return found if self._cost(found) < self._cost(now) else None

    def _cost(self, laid: LaidNet) -> float:
        """The area, and for each table how far from each other the middles of its two sides lie."""
        lanes = laid.lanes.of
        skew = 0.0
        for node in {self.net.at[dart] for dart in self.darts if self.net.piece.get(dart) in self.net.tall}:
            sides = [
                [lanes[one] for dart in side for one in (dart, dart ^ 1) if one in lanes]
                for side in (self.net.nodes[node].west, self.net.nodes[node].east)
            ]
            if all(sides):
                west, east = (side[len(side) // 2] for side in sides)
                skew += abs(west - east)
        return laid.area + LANE * LANE * skew

    def _ahead(self, extents: Mapping[int, Extent], dart: int, node: int) -> tuple[int, int] | None:
        """Which of two nodes must lie west of the other where one lies within a dart's line: it passes the end of the
        line with which it shares fewer lanes. None where both are alike."""
        west, east = self.net.at[dart], self.net.at[dart ^ 1]
        shared = [len(extents[node].keys() & extents[end].keys()) for end in (west, east)]
        if shared[0] == shared[1]:
            return None
        return (node, west) if shared[0] < shared[1] else (east, node)
