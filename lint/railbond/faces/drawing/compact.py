"""Draws lanes together: two lines keep their order where they lie above one another, and else may share a lane.

Lines are numbered from below as the drawing has them; a sweep from west to east tells which of them are neighbors.
What comes out is only taken where no track lies across another in any lane.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterable, Iterator, Mapping
from typing import NamedTuple

from .lanes import Lanes
from .net import Net
from .rises import numbered_lines, pulls_of, rises_of
from .scale import RUN
from .settling import Least, settle
from .spots import NodeSpot


class LaneLine(NamedTuple):
    """A straight line: its lane, and from where to where it reaches."""

    lane: int
    west: int
    east: int


class Compacting:
    """What the lanes of a net need to lie above one another, each of which may be drawn together with others.

    `run` is how far from its node a line begins that leaves it at a slope.
    """

    def __init__(
        self,
        net: Net,
        lanes: Lanes,
        spots: Mapping[int, NodeSpot],
        east: Mapping[int, int],
        wide: Mapping[int, int],
        run: int = RUN,
    ) -> None:
        self._net, self._line = net, numbered_lines(net, lanes.of)
        self._lines = _lines(net, lanes, spots, east, self._line, run)
        self._pulls = pulls_of(net, self._line, lanes.order)
        self._least = [*_neighbors(self._lines), *rises_of(net, self._line, wide), *self._pulls]

    def lanes(self, kept: Iterable[tuple[int, int]] = ()) -> dict[int, int]:
        """The lane of each dart where the drawing needs least height; `kept` are darts and nodes that keep their
        order."""
        net, line, lines, least = self._net, self._line, self._lines, list(self._least)
        for dart, node in kept:
            for other in _lines_at(net, line, node):
                lower, upper = sorted((line[dart], other), key=lambda one: lines[one].lane)
                if lines[lower].lane < lines[upper].lane:
                    least.append((lower, upper, 1))
        try:
            lane = settle(len(lines), [*least, *_level(net, line)], self._pulls)
        except ValueError:  # something lies between
            lane = settle(len(lines), least, self._pulls)
        return {dart: lane[number] for dart, number in line.items()}


def _level(net: Net, line: Mapping[int, int]) -> Iterator[Least]:
    """The middle tracks on the two sides of each tall piece, which lie in one lane where they can."""
    for node in {net.at[dart] for dart, piece in net.piece.items() if piece in net.tall}:
        sides = [
            [line[one] for dart in side for one in (dart, dart ^ 1) if one in line]
            for side in (net.nodes[node].west, net.nodes[node].east)
        ]
        if all(sides):
            west, east = (side[len(side) // 2] for side in sides)
            yield from ((west, east, 0), (east, west, 0))


def _lines_at(net: Net, line: Mapping[int, int], node: int) -> set[int]:
    return {line[one] for dart in net.nodes[node].around for one in (dart, dart ^ 1) if one in line}


def _lines(
    net: Net, lanes: Lanes, spots: Mapping[int, NodeSpot], east: Mapping[int, int], line: Mapping[int, int], run: int
) -> list[LaneLine]:
    found: dict[int, LaneLine] = {}
    for dart, lane in lanes.of.items():
        first, last = (
            east[net.at[one]] + spots[one].east + way * (run if _rises(net, spots[one], one, lane) else 0)
            for one, way in ((dart, 1), (dart ^ 1, -1))
        )
        first, last = min(first, last), max(first, last)
        there = found.get(line[dart], LaneLine(lane, first, last))
        found[line[dart]] = LaneLine(lane, min(first, there.west), max(last, there.east))
    return [found[number] for number in range(len(found))]


def _rises(net: Net, spot: NodeSpot, dart: int, lane: int) -> bool:
    """Whether a line runs at a slope where it leaves its node, and so reaches its lane further on."""
    piece = net.piece.get(dart)
    level = net.nodes[net.at[dart]].kind == "cap" or piece in net.apexes or piece in net.tall
    return lane != spot.lane and not level


def _neighbors(lines: list[LaneLine]) -> list[Least]:
    """The pairs of lines of which nothing lies between, the lower first."""
    ends = [(line.east, 0, index) for index, line in enumerate(lines)]
    starts = [(line.west, 1, index) for index, line in enumerate(lines)]
    found: list[Least] = []
    active: list[tuple[int, int]] = []
    for _, begins, index in sorted(ends + starts):
        key = (lines[index].lane, index)
        place = bisect_left(active, key)
        if begins:
            below, above = active[place - 1 : place], active[place : place + 1]
            found += [(one, index, 1) for _, one in below] + [(index, one, 1) for _, one in above]
            active.insert(place, key)
        elif active[place : place + 1] == [key]:
            del active[place]
            if 0 < place < len(active):
                found.append((active[place - 1][1], active[place][1], 1))
    return found


def in_the_way(net: Net, lanes: Lanes, rows: Mapping[int, list[int]]) -> list[tuple[int, int]]:
    """The darts that would lie across a node, each with that node: in its lane it lies between the dart's two."""
    place = {(lane, node): index for lane, row in rows.items() for index, node in enumerate(row)}
    found = []
    for dart, lane in lanes.of.items():
        first, last = sorted(place[lane, net.at[one]] for one in (dart, dart ^ 1))
        found += [(dart, node) for node in rows[lane][first + 1 : last]]
    return found
