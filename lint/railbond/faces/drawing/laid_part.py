"""Places one part of the plan that hangs together: nodes, then the courses of its strands, then its pieces."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise
from math import copysign

from railbond.layout.model import EndAt

from .chains import Half
from .course import Course, Point, Vertex
from .extents import own_reach
from .lanes import Lanes
from .lately import Lately
from .net import Net, Strand
from .part_layout import laid_out
from .part_shape import PartNumbers, shape_of
from .scale import CURVE, LANE, LEAD, REACH, RUN
from .scene import Cell, Scene, Terminal
from .scissored import place_scissors
from .spots import is_laned, lane_of

COURSES: Lately[tuple[Vertex, ...], Course] = Lately(2000)
"""Courses by their corners: with them all that is kept of them."""


class LaidPart:
    """One part, in places of its own: from its western end, and down from its highest lane."""

    def __init__(self, net: Net, rooms: dict[str, float], nodes: list[int], own: list[int]) -> None:
        self.net, self.nodes = net, nodes
        self.strands = [net.strands[index] for index in own]
        numbers = PartNumbers(net, nodes, self.strands)
        laid, self.west, self.size = laid_out(shape_of(net, rooms, numbers, self.strands))
        node, dart = numbers.nodes, numbers.darts
        of = {dart[one]: lane for one, lane in laid.lanes.of.items()}
        self.lanes = Lanes(of, [node[one] for one in laid.lanes.order])
        self.spots = {dart[one]: spot for one, spot in laid.spots.items()}
        self.east = {node[one]: east for one, east in laid.east.items()}
        self.top = max(of.values(), default=0)
        self.has_pit = any(net.piece.get(one) in net.tall for one in self.spots)
        """Whether a table is in it, whose pit may reach out of its lanes."""
        self.right = self.down = 0.0

    def place(self, scene: Scene, right: float, down: float) -> Iterator[Half]:
        """Puts the part into the scene so far to the right and down; gives each of its strands on its course."""
        self.right, self.down = right, down
        for strand in self.strands:
            if self._is_room(strand):
                continue
            corners = list(self._corners(strand))
            key = tuple(corners)
            yield strand, COURSES.get(key) or COURSES.put(key, Course(corners))
            self._put_end(scene, strand.start, strand.darts[0], corners[0].at)
            self._put_end(scene, strand.last, strand.darts[-1] ^ 1, corners[-1].at)
        for node in self.lanes.order:
            if self.net.nodes[node].kind == "bridge":
                lane = self.spots[self.net.nodes[node].straight[0][0]].lane
                scene.bridges.append((self.right + self.east[node], self._down(lane)))
        for name in self.net.tall.keys() & {self.net.piece.get(dart) for dart in self.spots}:
            scene.cells[name] = _centered(scene.cells[name])._replace(free=self._free(name))
        for stem, node in self.net.scissors.items():
            if node in self.east:
                place_scissors(scene, stem)
        scene.height = max(scene.height, self.down + (self.top + 1) * LANE)

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

    def _is_room(self, strand: Strand) -> bool:
        """Whether it is a lane that is kept free, and no track."""
        return any(self.net.nodes[self.net.at[one]].kind == "room" for one in (strand.darts[0], strand.darts[-1] ^ 1))

    def _free(self, name: str) -> tuple[float, float]:
        """The highest and the lowest lane of a tall piece, those that are kept free among them."""
        own = [self._down(lane_of(self.lanes, dart)) for dart in self.spots if self.net.piece.get(dart) == name]
        return min(own), max(own)


def _centered(cell: Cell) -> Cell:
    """A tall piece's cell, its middle between its highest and its lowest end."""
    heights = [y for _, y in cell.ends.values()]
    return cell._replace(at=(cell.at[0], (min(heights) + max(heights)) / 2), tall=True)


def slope(at: Point, way: int, rise: float) -> Point:
    """Where a piece ends on the slope that leads up (`rise` above 0) or down from it, to the east (1) or west."""
    return at[0] + way * REACH * 0.8, at[1] - copysign(REACH * 0.6, rise)
