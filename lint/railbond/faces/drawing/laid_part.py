"""Places one part of the plan that hangs together: nodes, then the courses of its strands, then its pieces."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from itertools import pairwise
from math import ceil, copysign, hypot

from railbond.layout.model import EndAt, Layout

from .chains import Half
from .course import Course, Point, Vertex
from .lanes import Lanes, lanes
from .net import Net, Strand
from .scale import CURVE, LANE, LEAD, LEAST, REACH, RUN
from .scene import Cell, Scene, Terminal
from .scissored import place_scissors
from .spots import NodeSpot, is_laned, lane_of
from .spread import extent_of, own_reach
from .surface import darts_of
from .together import drawn_together

SLOPE = hypot(RUN, LANE)
HALVED = 40.0
"""The least length of each half of a piece that lies in two rows."""


class LaidPart:
    """One part, in places of its own: from its western end, and down from its highest lane."""

    def __init__(self, net: Net, layout: Layout, rooms: dict[str, float], nodes: list[int], own: list[int]) -> None:
        self.net, self.layout, self.rooms, self.nodes = net, layout, rooms, nodes
        self.strands = [net.strands[index] for index in own]
        self.owner = {dart: strand for strand in self.strands for one in strand.darts for dart in (one, one ^ 1)}
        self.darts = darts_of(net, own)
        self.lanes, self.spots, self.east = drawn_together(
            net, lanes(net, nodes, own, self._wide()), self.darts, self._room, self._wide()
        )
        self._align()
        self.top = max(self.lanes.of.values(), default=0)
        self.right = self.down = 0.0

    @property
    def size(self) -> tuple[int, int]:
        """Its width and height, with the names of edges beyond its ends."""
        reach = (extent_of(self.net, self.lanes, self.spots, node) for node in self.east)
        spans = [
            (east + min(first for first, _ in own.values()), east + max(last for _, last in own.values()))
            for east, own in zip(self.east.values(), reach, strict=True)
            if own
        ]
        self.west = min((first for first, _ in spans), default=0)
        return max((last for _, last in spans), default=0) - self.west, (self.top + 1) * LANE

    def _align(self) -> None:
        """Lets the tracks of a ladder end one above the other, where nothing lies beyond them."""
        last: dict[int, int] = {}
        for dart, lane in self.lanes.of.items():
            last[lane] = max(last.get(lane, 0), self.east[self.net.at[dart ^ 1]])
        ends = {
            self.net.at[level ^ 1]: lane_of(self.lanes, level)
            for piece, level in self.net.level.items()
            if self.net.goes_east(level) and self.net.at[level] in self.east
        }
        free = [
            node for node, lane in ends.items() if self.net.nodes[node].kind == "stop" and last[lane] == self.east[node]
        ]
        self.east |= dict.fromkeys(free, max((self.east[node] for node in free), default=0))

    def _wide(self) -> dict[int, int]:
        """The crossovers of this part that need more than one lane for what is on them."""
        need = {
            one: sum(max(self.rooms[entered.piece] - 36, 12) for entered in strand.chain)
            - (2 * LANE if self.net.piece[one] in self.net.level else 0)
            for strand in self.strands
            for one in (strand.darts[0], strand.darts[0] ^ 1)
            if one in self.net.crossovers
        }
        return {dart: ceil((room + 2 * REACH) / SLOPE) for dart, room in need.items()}

    def place(self, scene: Scene, right: float, down: float) -> Iterator[Half]:
        """Puts the part into the scene so far to the right and down; gives each of its strands on its course."""
        self.right, self.down = right, down
        for strand in self.strands:
            corners = list(self._corners(strand))
            yield strand, Course(corners)
            self._put_end(scene, strand.start, strand.darts[0], corners[0].at)
            self._put_end(scene, strand.last, strand.darts[-1] ^ 1, corners[-1].at)
        for node in self.lanes.order:
            if self.net.nodes[node].kind == "bridge":
                lane = self.spots[self.net.nodes[node].straight[0][0]].lane
                scene.bridges.append((self.right + self.east[node], self._down(lane)))
        for name in self.net.tall.keys() & scene.cells.keys():
            scene.cells[name] = _centered(scene.cells[name])
        for stem, node in self.net.scissors.items():
            if node in self.east:
                place_scissors(scene, stem)
        scene.height = max(scene.height, self.down + (self.top + 1) * LANE)

    def _room(self, lanes: Lanes, spots: Mapping[int, NodeSpot], dart: int, lax: bool = False) -> int:
        """The room that a dart's level track needs: its share of the strand's, less what lies on the slopes; `lax`:
        if it rose by one lane at most."""
        strand = self.owner[dart]
        halved = max(self.rooms[strand.halved] / 2 - HALVED, 0) if strand.half else 0
        need = (sum(self.rooms[entered.piece] for entered in strand.chain) - halved) / len(strand.darts)
        ends = [one for one in (dart, dart ^ 1) if lane_of(lanes, one) != spots[one].lane]
        rises = (1 if lax else abs(lane_of(lanes, one) - spots[one].lane) for one in ends)
        slopes = sum(rise * SLOPE - REACH for rise in rises)
        least = LEAST if strand.chain else 2 if len(ends) < 2 else LEAST
        return int(max(need - slopes, least))

    def _at(self, dart: int) -> Point:
        """Where the piece lies that a dart leaves."""
        spot = self.spots[dart]
        return self.right + self.east[self.net.at[dart]] + spot.east, self._down(spot.lane)

    def _down(self, lane: int) -> float:
        return self.down + (self.top - lane) * LANE

    def _corners(self, strand: Strand) -> Iterator[Vertex]:
        """The polyline of a strand from piece to piece."""
        first, last = strand.darts[0], strand.darts[-1] ^ 1
        yield from self._leave(first)
        for came, goes in pairwise(strand.darts):
            yield from self._through(came ^ 1, goes)
        yield from reversed(list(self._leave(last)))

    def _leave(self, dart: int) -> Iterator[Vertex]:
        """From where a piece ends toward a dart, to where the dart's lane begins."""
        (x, y), way = self._at(dart), 1 if self._goes_east(dart) else -1
        if not is_laned(self.lanes, dart):
            yield Vertex(slope((x, y), way, y - self._at(dart ^ 1)[1]))
            return
        rise = lane_of(self.lanes, dart) - self.spots[dart].lane
        if self.net.piece.get(dart) in self.net.tall:
            yield Vertex((x + way * own_reach(self.net, dart), y - rise * LANE))
        elif not rise:
            yield Vertex((x + way * own_reach(self.net, dart), y))
        elif self.net.piece.get(dart) in self.net.apexes:
            yield Vertex((x, y - copysign(REACH, rise)))
            yield Vertex((x, y - rise * LANE))
            yield Vertex((x + way * LEAD, y - rise * LANE))
        else:
            yield Vertex(slope((x, y), way, rise) if dart in self.net.piece else (x, y))
            yield Vertex((x + way * RUN * abs(rise), y - rise * LANE))

    def _goes_east(self, dart: int) -> bool:
        return dart in self.net.crossovers or (dart ^ 1 not in self.net.crossovers and self.net.goes_east(dart))

    def _through(self, back: int, goes: int) -> Iterator[Vertex]:
        """Past a node that is no piece: over a bridge, or round a cap."""
        if self.net.nodes[self.net.at[goes]].kind != "cap":
            yield from reversed(list(self._leave(back)))
            yield from self._leave(goes)
            return
        way = -1 if self._goes_east(goes) else 1
        high, low = (self._down(lane_of(self.lanes, one)) for one in (back, goes))
        x = self.right + self.east[self.net.at[goes]] + way * min(abs(high - low) / 2, CURVE)
        yield Vertex((x, high), CURVE)
        yield Vertex((x, low), CURVE)

    def _put_end(self, scene: Scene, end: EndAt, dart: int, at: Point) -> None:
        """Notes where a piece's end or the end of track lies."""
        node = self.net.nodes[self.net.at[dart]]
        if dart in self.net.piece:
            cell = scene.cells.setdefault(end.piece, Cell(self._at(dart), {}, end.piece in self.net.apexes))
            cell.ends[end.end] = at
        elif node.kind != "ring":
            looks = -1 if self._goes_east(dart) else 1
            scene.terminals.append(Terminal(node.kind, node.name, at, looks))


def _centered(cell: Cell) -> Cell:
    """A tall piece's cell, its middle between its highest and its lowest end."""
    heights = [y for _, y in cell.ends.values()]
    return cell._replace(at=(cell.at[0], (min(heights) + max(heights)) / 2), tall=True)


def slope(at: Point, way: int, rise: float) -> Point:
    """Where a piece ends on the slope that leads up (`rise` above 0) or down from it, to the east (1) or west."""
    return at[0] + way * REACH * 0.8, at[1] - copysign(REACH * 0.6, rise)
