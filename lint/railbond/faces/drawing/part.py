"""Places one part of the plan that hangs together: nodes, then the courses of its strands, then its pieces."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise
from math import ceil, copysign, hypot

from railbond.layout.model import EndAt, Layout

from .course import Corner, Course, Point
from .lanes import lanes
from .net import Net, Strand
from .scale import CURVE, LANE, LEAD, LEAST, PIT, REACH, RUN
from .scene import Cell, Joint, Scene, Stretch, Terminal
from .spots import is_laned, lane_of, spots
from .spread import own_reach, spread
from .surface import darts_of

SLOPE = hypot(RUN, LANE)


class Part:
    """One part, in places of its own: from 0 at its western end, and down from its highest lane."""

    def __init__(self, net: Net, layout: Layout, rooms: dict[str, float], nodes: list[int], own: list[int]) -> None:
        self.net, self.layout, self.rooms = net, layout, rooms
        self.strands = [net.strands[index] for index in own]
        self.lanes = lanes(net, nodes, own, self._wide())
        self.spots = spots(net, self.lanes, darts_of(net, own))
        self.owner = {dart: strand for strand in self.strands for one in strand.darts for dart in (one, one ^ 1)}
        self.top = max(self.lanes.of.values(), default=0)
        self.east = spread(net, self.lanes, self.spots, self._room)
        self.west = 0.0

    def _wide(self) -> dict[int, int]:
        """The crossovers of this part that need more than one lane for what is on them."""
        need = {
            one: sum(max(self.rooms[entered.piece] - LEAST, 12) for entered in strand.chain)
            for strand in self.strands
            for one in (strand.darts[0], strand.darts[0] ^ 1)
            if one in self.net.crossovers
        }
        return {dart: ceil((room + 2 * REACH) / SLOPE) for dart, room in need.items()}

    def place(self, scene: Scene) -> None:
        """Puts the part into the scene, below what is there."""
        self.down = scene.height
        for strand in self.strands:
            corners = list(self._corners(strand))
            course = Course(corners)
            self._put_chain(scene, strand, course)
            self._put_end(scene, strand.start, strand.darts[0], corners[0].at)
            self._put_end(scene, strand.last, strand.darts[-1] ^ 1, corners[-1].at)
        for node in self.lanes.order:
            if self.net.nodes[node].kind == "bridge":
                lane = self.spots[self.net.nodes[node].straight[0][0]].lane
                scene.bridges.append((float(self.east[node]), self._down(lane)))
        for name in self.net.tall & scene.cells.keys():
            scene.cells[name] = _centred(scene.cells[name])
        scene.height = self.down + (self.top + 1) * LANE

    def _room(self, dart: int) -> int:
        """The room that a dart's level track needs: its share of the strand's, less what lies on the slopes."""
        strand = self.owner[dart]
        need = sum(self.rooms[entered.piece] for entered in strand.chain) / len(strand.darts)
        ends = [one for one in (dart, dart ^ 1) if lane_of(self.lanes, one) != self.spots[one].lane]
        slopes = sum(abs(lane_of(self.lanes, one) - self.spots[one].lane) * SLOPE - REACH for one in ends)
        least = LEAST if strand.chain else 2 if len(ends) < 2 else LEAST
        return int(max(need - slopes, least))

    def _at(self, dart: int) -> Point:
        """Where the piece lies that a dart leaves."""
        spot = self.spots[dart]
        return self.east[self.net.at[dart]] + spot.east, self._down(spot.lane)

    def _down(self, lane: int) -> float:
        return self.down + (self.top - lane) * LANE

    def _corners(self, strand: Strand) -> Iterator[Corner]:
        """The polyline of a strand from piece to piece."""
        first, last = strand.darts[0], strand.darts[-1] ^ 1
        yield from self._leave(first)
        for came, goes in pairwise(strand.darts):
            yield from self._through(came ^ 1, goes)
        yield from reversed(list(self._leave(last)))

    def _leave(self, dart: int) -> Iterator[Corner]:
        """From where a piece ends towards a dart, to where the dart's lane begins."""
        (x, y), way = self._at(dart), 1 if self._goes_east(dart) else -1
        if not is_laned(self.lanes, dart):
            yield Corner(slope((x, y), way, y - self._at(dart ^ 1)[1]))
            return
        rise = lane_of(self.lanes, dart) - self.spots[dart].lane
        if self.net.piece.get(dart) in self.net.tall:
            yield Corner((x + way * PIT, y - rise * LANE))
        elif not rise:
            yield Corner((x + way * own_reach(self.net, dart), y))
        elif self.net.piece.get(dart) in self.net.apexes:
            yield Corner((x, y - copysign(REACH, rise)))
            yield Corner((x, y - rise * LANE))
            yield Corner((x + way * LEAD, y - rise * LANE))
        else:
            yield Corner(slope((x, y), way, rise) if dart in self.net.piece else (x, y))
            yield Corner((x + way * RUN * abs(rise), y - rise * LANE))

    def _goes_east(self, dart: int) -> bool:
        return dart in self.net.crossovers or (dart ^ 1 not in self.net.crossovers and self.net.goes_east(dart))

    def _through(self, back: int, goes: int) -> Iterator[Corner]:
        """Past a node that is no piece: over a bridge, or round a cap."""
        if self.net.nodes[self.net.at[goes]].kind != "cap":
            yield from reversed(list(self._leave(back)))
            yield from self._leave(goes)
            return
        way = -1 if self._goes_east(goes) else 1
        high, low = (self._down(lane_of(self.lanes, one)) for one in (back, goes))
        x = self.east[self.net.at[goes]] + way * min(abs(high - low) / 2, CURVE)
        yield Corner((x, high), CURVE)
        yield Corner((x, low), CURVE)

    def _put_chain(self, scene: Scene, strand: Strand, course: Course) -> None:
        """Shares a course among the plain pieces on it."""
        whole = sum(self.rooms[entered.piece] for entered in strand.chain)
        place = 0.0
        scene.joints[strand.start] = Joint(course, 0 if strand.chain else course.length / 2, True)
        for entered in strand.chain:
            far = next(end for end in self.layout.pieces[entered.piece].template.ends if end != entered.end)
            start, place = place, place + course.length * self.rooms[entered.piece] / whole
            along = not self.layout.pieces[entered.piece].template.ends[entered.end].leaves
            scene.stretches[entered.piece] = Stretch(course, start, place, along)
            scene.joints[entered] = Joint(course, start, False)
            scene.joints[EndAt(entered.piece, far)] = Joint(course, place, True)
        if strand.last != strand.start:
            scene.joints[strand.last] = Joint(course, place if strand.chain else course.length / 2, False)
        if not strand.chain and strand.last != strand.start:
            scene.links.append((strand.start, strand.last, course))

    def _put_end(self, scene: Scene, end: EndAt, dart: int, at: Point) -> None:
        """Notes where a piece's end or the end of track lies."""
        node = self.net.nodes[self.net.at[dart]]
        if dart in self.net.piece:
            cell = scene.cells.setdefault(end.piece, Cell(self._at(dart), {}, end.piece in self.net.apexes))
            cell.ends[end.end] = at
        elif node.kind != "ring":
            looks = -1 if self._goes_east(dart) else 1
            scene.terminals.append(Terminal(node.kind, node.name, at, looks))


def _centred(cell: Cell) -> Cell:
    """A tall piece's cell, its middle between its highest and its lowest end."""
    heights = [y for _, y in cell.ends.values()]
    return cell._replace(at=(cell.at[0], (min(heights) + max(heights)) / 2), tall=True)


def slope(at: Point, way: int, rise: float) -> Point:
    """Where a piece ends on the slope that leads up (`rise` above 0) or down from it, to the east (1) or west."""
    return at[0] + way * REACH * 0.8, at[1] - copysign(REACH * 0.6, rise)
