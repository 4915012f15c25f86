"""The ways over a piece that is no plain track, each with its course in the picture and the metals of its two rails."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise
from math import hypot
from typing import NamedTuple

from railbond.circuit.running.frogs import size_of
from railbond.circuit.running.geometry import legs_of
from railbond.layout.model import Piece

from .course import Course, Point, Vertex
from .scale import BEND, REACH
from .scene import Cell
from .strokes import HALF

STEPS = 24
"""Places at which a course is looked at to see where rails cross."""
BIT = 6
"""Steps that are looked at together: most lie nowhere near the other rail."""


class RailWay(NamedTuple):
    """One rail of a way: its metals in order (None: a plastic frog), and how far left of the course it lies."""

    way: int
    side: str
    chain: tuple[int | None, ...]
    aside: float


class Way(NamedTuple):
    """A way from one end to another, which a train takes while the points stand in `position` (None: always)."""

    enter: str
    leave: str
    position: str | None
    course: Course
    left: tuple[int | None, ...]
    right: tuple[int | None, ...]


def ways_of(piece: Piece, cell: Cell) -> list[Way]:
    """Every way over the piece, once, from an end at which its looking direction comes in."""
    found: dict[tuple[str, str, str | None], Way] = {}
    for leg in legs_of(piece, size_of(piece, None, 100)):
        there = (
            (leg.leave, leg.enter, leg.position) in found or leg.enter not in cell.ends or leg.leave not in cell.ends
        )
        if not there and (leg.enter, leg.leave, leg.position) not in found:
            left, right = (tuple(one.metal for one in rail) for rail in (leg.left, leg.right))
            course = _course(piece, cell, leg.enter, leg.leave)
            found[leg.enter, leg.leave, leg.position] = Way(leg.enter, leg.leave, leg.position, course, left, right)
    return list(found.values())


def _course(piece: Piece, cell: Cell, enter: str, leave: str) -> Course:
    drawn = piece.template.outline
    crossed = len(drawn.west) == len(drawn.east) == 2
    radius = REACH * 0.8 if cell.upright else 2.6 * BEND if crossed else BEND
    return Course([Vertex(cell.ends[enter]), Vertex(cell.at, radius), Vertex(cell.ends[leave])])


def rail_ways(ways: list[Way]) -> list[RailWay]:
    """Both rails of each way, those of the fewest metals first."""
    found = [
        RailWay(number, side, chain, aside)
        for number, way in enumerate(ways)
        for side, chain, aside in (("left", way.left, HALF), ("right", way.right, -HALF))
    ]
    return sorted(found, key=lambda one: len(one.chain))


def line_of(course: Course, aside: float) -> list[Point]:
    """A rail as points, evenly along the course."""
    return [course.at(course.length * step / STEPS, aside) for step in range(STEPS + 1)]


def crossings(one: list[Point], other: list[Point]) -> Iterator[float]:
    """Where two lines cross, as shares of the length of the first."""
    others = list(_bits(other))
    for start, *around in _bits(one):
        west, east, top, low = around
        near = [
            (c, d)
            for there, left, right, up, down in others
            if left <= east and right >= west and up <= low and down >= top
            for c, d in pairwise(other[there : there + BIT + 1])
        ]
        for here, (a, b) in enumerate(pairwise(one[start : start + BIT + 1]) if near else (), start):
            for c, d in near:
                if max(c[0], d[0]) >= min(a[0], b[0]) and max(a[0], b[0]) >= min(c[0], d[0]):
                    across = (b[0] - a[0]) * (d[1] - c[1]) - (b[1] - a[1]) * (d[0] - c[0])
                    if abs(across) > 1e-6 * hypot(b[0] - a[0], b[1] - a[1]) * hypot(d[0] - c[0], d[1] - c[1]):
                        along = ((c[0] - a[0]) * (d[1] - c[1]) - (c[1] - a[1]) * (d[0] - c[0])) / across
                        beside = ((c[0] - a[0]) * (b[1] - a[1]) - (c[1] - a[1]) * (b[0] - a[0])) / across
                        if 0 <= along < 1 and 0 <= beside < 1:
                            yield (here + along) / STEPS


def _bits(line: list[Point]) -> Iterator[tuple[int, float, float, float, float]]:
    """A line bit by bit: at which point each begins, and the rectangle round it."""
    for start in range(0, len(line) - 1, BIT):
        across, down = zip(*line[start : start + BIT + 1], strict=True)
        yield start, min(across), max(across), min(down), max(down)


def parting(one: list[Point], other: list[Point], least: float, back: bool = False) -> float:
    """The share of `one` from which it lies so far from `other`, both beginning (or, `back`, ending) at one place."""
    steps = range(STEPS, -1, -1) if back else range(STEPS + 1)
    before = 0.0
    for step in steps:
        apart = min(hypot(one[step][0] - x, one[step][1] - y) for x, y in _near(other, step))
        if apart >= least:
            share = 1 - (apart - least) / (apart - before) if apart > before else 1.0
            return (step + (1 - share if back else share - 1)) / STEPS
        before = apart
    return 0.5


def _near(line: list[Point], step: int) -> list[Point]:
    """Points of a line around a step, and between them: two lines are not run through at one speed."""
    around = line[max(step - 4, 0) : step + 5]
    return around + [((a + c) / 2, (b + d) / 2) for (a, b), (c, d) in zip(around, around[1:], strict=False)]
