"""Where everything of a layout lies in the picture: the course of plain track, and the cells of all other pieces."""

from __future__ import annotations

from typing import NamedTuple

from railbond.layout.model import EndAt, Layout

from .apex import raise_apexes
from .bridges import bridge
from .caps import cap, join_crossovers
from .course import Course, Point
from .facing import face, is_straight, length
from .net import Net, Strand
from .skeleton import skeleton
from .surface import Faces, darts_of
from .turns import turns


class Stretch(NamedTuple):
    """A plain piece on its course, from one place of it to another, along its looking direction or against it."""

    course: Course
    start: float
    stop: float
    along: bool


class Cell(NamedTuple):
    """A piece that is no plain track: where its routes part, where each of its ends lies, and whether its points
    stand upright between two level legs."""

    at: Point
    ends: dict[str, Point]
    upright: bool = False


class Joint(NamedTuple):
    """Where a piece's end lies on a course, and whether looking out of it is looking along the course."""

    course: Course
    along: float
    out: bool


class Terminal(NamedTuple):
    """An end of track, where it lies, and which way it looks: 1 to the east, -1 to the west."""

    kind: str
    name: str
    at: Point
    looks: int


class Scene:
    """All places, in picture units, y downwards."""

    def __init__(self) -> None:
        self.stretches: dict[str, Stretch] = {}
        self.cells: dict[str, Cell] = {}
        self.terminals: list[Terminal] = []
        self.joints: dict[EndAt, Joint] = {}
        self.links: list[tuple[EndAt, EndAt, Course]] = []
        """Courses on which no piece lies: two pieces meet there, drawn apart."""
        self.height = 0.0
        self.width = 0.0


def stage(layout: Layout, rooms: dict[str, float]) -> Scene:
    """Lays out all track. `rooms` is how long each plain piece must at least be drawn."""
    from .part import Part

    net = prepared(layout)
    scene = Scene()
    for nodes, strands in list(net.components()):
        Part(net, layout, rooms, nodes, strands).place(scene)
    return scene


def prepared(layout: Layout) -> Net:
    """The net of a layout, with each dart pair running from west to east."""
    net = skeleton(layout)
    face(net, layout)
    bridge(net)
    turned: dict[int, int] = {}
    for _, strands in net.components():
        cost = {
            dart: _cost(net, layout, net.strands[index]) for index in strands for dart in darts_of(net, [index])
        }
        turned |= turns(net, Faces(net, list(cost)), cost.__getitem__)
    raise_apexes(net, turned)
    cap(net, turned)
    join_crossovers(net)
    return net


def _cost(net: Net, layout: Layout, strand: Strand) -> int:
    """What it costs to double back on a strand: least on long track that is straight with no piece."""
    straight = sum(is_straight(net, dart) for dart in (strand.darts[0], strand.darts[-1] ^ 1))
    return 1000 if not strand.chain else 40 + 4 * straight - min(int(4 * length(layout, strand)), 30)
