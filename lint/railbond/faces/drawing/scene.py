"""Where everything of a layout lies in the picture: the course of plain track, and the cells of all other pieces."""

from __future__ import annotations

from collections.abc import Mapping
from typing import NamedTuple, Protocol

from railbond.layout.model import EndAt, Piece

from .course import Course, Point


class LaidTrack(NamedTuple):
    """A plain piece on its course, from one place of it to another, along its looking direction or against it."""

    course: Course
    start: float
    stop: float
    along: bool


class Cell(NamedTuple):
    """A piece that is no plain track: where its routes part, where each of its ends lies, and whether its points
    stand upright between two level legs, or it is a tall pit with its tracks round it: `free` are then the heights
    of the highest and the lowest lane in which nothing else lies."""

    at: Point
    ends: dict[str, Point]
    upright: bool = False
    tall: bool = False
    free: tuple[float, float] = (0.0, 0.0)


class LaidEnd(NamedTuple):
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


class Work(Protocol):
    """The metal of a piece that has a cell, as it is drawn."""

    piece: Piece

    @property
    def frogs(self) -> Mapping[int, Point]:
        """Where each metal frog lies."""
        ...

    def middle(self, metal: int) -> Point | None:
        """Where a wire to a metal is soldered."""
        ...

    def line(self, enter: str, leave: str) -> str:
        """The middle of the track from one end to another, as SVG path data."""
        ...

    def runs_back(self, enter: str, leave: str) -> bool:
        """Whether `line` runs from the second end to the first."""
        ...


class Scene:
    """All places, in picture units, y downwards."""

    def __init__(self) -> None:
        self.stretches: dict[str, LaidTrack] = {}
        self.cells: dict[str, Cell] = {}
        self.terminals: list[Terminal] = []
        self.joints: dict[EndAt, LaidEnd] = {}
        self.links: list[tuple[EndAt, EndAt, Course]] = []
        """Courses on which no piece lies: two pieces meet, drawn apart, or track stops (both ends are one then)."""
        self.works: dict[str, Work] = {}
        """The metal of each piece that has a cell."""
        self.bridges: list[Point] = []
        """Where one track, level there, passes over another."""
        self.rows: list[float] = []
        """How far down each row of a folded drawing begins."""
        self.height = 0.0
        self.width = 0.0
        self.kept: dict[object, object] = {}
        """What others worked out of where track lies, whatever it is called."""
