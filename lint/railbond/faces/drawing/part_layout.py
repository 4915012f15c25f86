"""Lays out one part by its shape: its lanes, where its nodes lie from west to east, and the room that it takes."""

from __future__ import annotations

from collections.abc import Mapping
from functools import lru_cache
from math import ceil, hypot
from typing import NamedTuple

from .extents import Extents
from .lanes import Lanes, lanes
from .net import Net
from .part_shape import PartShape, StrandShape
from .scale import LANE, LEAST, REACH, RUN
from .spots import NodeSpot, lane_of
from .together import LaidNet, drawn_together

SLOPE = hypot(RUN, LANE)
HALVED = 40.0
"""The least length of each half of a piece that lies in two rows."""
ROUNDED = 12
"""The least level length beside a slope, so that the bend between them has room."""
KEPT = 160
"""Shapes that are known again: what is typed changes few of a plan's parts, and many are alike."""


class LaidShape(NamedTuple):
    """A part laid out; `west` is where its western end lies, with the names of edges beyond it, and `size` its width
    and height."""

    laid: LaidNet
    west: int
    size: tuple[int, int]


@lru_cache(KEPT)
def laid_out(shape: PartShape) -> LaidShape:
    """A part of this shape in its own numbers, with the least area that is found."""
    return _Layout(shape).found()


class _Layout:
    def __init__(self, shape: PartShape) -> None:
        self.net, self.strands = shape.net(), shape.strands
        self.owner: dict[int, StrandShape] = {
            dart: strand for strand in self.strands for one in strand.darts for dart in (one, one ^ 1)
        }
        self.darts = list(self.owner)

    def found(self) -> LaidShape:
        wide = self._wide()
        first = lanes(self.net, self.darts, wide)
        extents = Extents(self.net)
        laid = drawn_together(self.net, extents, first, self.darts, self._room, wide)
        laid = laid._replace(east=laid.east | _aligned(self.net, laid))
        west, width = _breadth(extents, laid)
        return LaidShape(laid, west, (width, (max(laid.lanes.of.values(), default=0) + 1) * LANE))

    def _wide(self) -> dict[int, int]:
        """The crossovers of this part that need more than one lane for what is on them."""
        need = {
            one: sum(max(room - 36, 12) for room in strand.rooms)
            - (2 * LANE if self.net.piece[one] in self.net.level else 0)
            for strand in self.strands
            for one in (strand.darts[0], strand.darts[0] ^ 1)
            if one in self.net.crossovers
        }
        return {dart: ceil((room + 2 * REACH) / SLOPE) for dart, room in need.items()}

    def _room(self, lanes: Lanes, spots: Mapping[int, NodeSpot], dart: int, lax: bool = False) -> int:
        """The room that a dart's level track needs: its share of the strand's, less what lies on the slopes; `lax`:
        if it rose by one lane at most."""
        strand = self.owner[dart]
        need = (sum(strand.rooms) - max(strand.halved / 2 - HALVED, 0)) / len(strand.darts)
        ends = [one for one in (dart, dart ^ 1) if lane_of(lanes, one) != spots[one].lane]
        rises = (1 if lax else abs(lane_of(lanes, one) - spots[one].lane) for one in ends)
        slopes = sum(rise * SLOPE - REACH for rise in rises)
        least = LEAST if strand.rooms else (2, ROUNDED, LEAST)[len(ends)]
        return int(max(need - slopes, least))


def _aligned(net: Net, laid: LaidNet) -> dict[int, int]:
    """Lets the tracks of a ladder end one above the other, where nothing lies beyond them."""
    last: dict[int, int] = {}
    for dart, lane in laid.lanes.of.items():
        last[lane] = max(last.get(lane, 0), laid.east[net.at[dart ^ 1]])
    ends = {
        net.at[level ^ 1]: lane_of(laid.lanes, level)
        for level in net.level.values()
        if net.goes_east(level) and net.at[level] in laid.east
    }
    free = [node for node, lane in ends.items() if net.nodes[node].kind == "stop" and last[lane] == laid.east[node]]
    return dict.fromkeys(free, max((laid.east[node] for node in free), default=0))


def _breadth(extents: Extents, laid: LaidNet) -> tuple[int, int]:
    """Where it begins in the west, and how wide it is."""
    reach = extents.of(laid.east, laid.lanes, laid.spots).values()
    spans = [
        (east + min(first for first, _ in own.values()), east + max(last for _, last in own.values()))
        for east, own in zip(laid.east.values(), reach, strict=True)
        if own
    ]
    west = min((first for first, _ in spans), default=0)
    return west, max((last for _, last in spans), default=0) - west
