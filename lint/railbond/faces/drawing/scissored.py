"""Scissors crossovers: five pieces that lie in one node, two lanes apart, with their crossing in the middle."""

from __future__ import annotations

from collections.abc import Iterator

from railbond.layout.model import EndAt, Layout
from railbond.trackwork.scissors import HANDS, JOINTS

from .course import Course, Point, Vertex
from .scale import REACH
from .scene import Cell, LaidEnd, Scene

PLACES = {"a1": -1, "b1": -1, "a2": 1, "b2": 1, "x": 0}
"""How many runs east of the middle each part lies."""


def scissors(layout: Layout) -> Iterator[str]:
    """The stems of all scissors crossovers whose parts are joined as they should be."""
    met = {frozenset((meeting.one, meeting.other)) for meeting in layout.meetings}
    for name in layout.pieces:
        stem = name.removesuffix("-x")
        parts = [layout.pieces.get(f"{stem}-{part}") for part in PLACES]
        lines = {part.statement.at for part in parts if part}
        if stem != name and all(parts) and len(lines) == 1 and all(map(met.__contains__, map(frozenset, _pairs(stem)))):
            yield stem


def _pairs(stem: str) -> list[tuple[EndAt, EndAt]]:
    return list(inner_joints(stem))


def inner_joints(stem: str) -> Iterator[tuple[EndAt, EndAt]]:
    """The ends that meet within a scissors crossover."""
    for joint in JOINTS:
        one, other = (EndAt(f"{stem}-{where.partition('.')[0]}", where.partition(".")[2]) for where in joint)
        yield one, other


def place_scissors(scene: Scene, stem: str) -> None:
    """Puts the crossing into its middle, and joins the five with track."""
    at = {part: scene.cells[f"{stem}-{part}"].at for part in HANDS}
    middle = ((at["a1"][0] + at["b2"][0]) / 2, (at["a1"][1] + at["b2"][1]) / 2)
    scene.cells[f"{stem}-x"] = Cell(middle, {})
    ends: dict[EndAt, Point] = {}
    for one, other in inner_joints(stem):
        here, there = (scene.cells[end.piece].at for end in (one, other))
        for end, (x, y), (u, v) in ((one, here, there), (other, there, here)):
            ends[end] = reached = (x + _sign(u - x) * REACH * (0.8 if v != y else 1), y + _sign(v - y) * REACH * 0.6)
            scene.cells[end.piece].ends[end.end] = reached
    for one, other in inner_joints(stem):
        course = Course([Vertex(ends[one]), Vertex(ends[other])])
        scene.joints[one] = LaidEnd(course, course.length / 2, True)
        scene.joints[other] = LaidEnd(course, course.length / 2, False)
        scene.links.append((one, other, course))


def _sign(number: float) -> int:
    return (number > 0) - (number < 0)
