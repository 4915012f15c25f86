"""Everything that is drawn before labels are placed, taken up as lines and boxes that no label may touch."""

from __future__ import annotations

from itertools import pairwise
from math import cos, pi, sin

from .course import Bend, Course, Point
from .label_room import LabelRoom
from .metalwork import Metalwork
from .pits import PitWork
from .scene import Scene
from .shapes import Box, Line
from .strokes import HALF

RAIL = 3.7
"""Half the width of the widest rail."""
STEP = 7.0


LARGE = 400
"""Pieces of a picture of which nothing is kept: nobody types in so large a plan, and to know it again takes long."""


def track_room(scene: Scene, stands: dict[str, str]) -> LabelRoom:
    """Room in which all rails are taken up, and the edges of pits; kept with the scene, and each time a copy."""
    if len(scene.stretches) + len(scene.works) > LARGE:
        room = LabelRoom(marked=False)
        _take_track(scene, stands, room)
        return room
    key = track_room, tuple(stands.get(name) for name, work in scene.works.items() if isinstance(work, PitWork))
    known = scene.kept.get(key)
    if not isinstance(known, LabelRoom):
        scene.kept[key] = known = LabelRoom()
        _take_track(scene, stands, known)
    return known.copy()


def _take_track(scene: Scene, stands: dict[str, str], room: LabelRoom) -> None:
    for stretch in scene.stretches.values():
        _rails(stretch.course, stretch.start, stretch.stop, room)
    for _, _, course in scene.links:
        _rails(course, 0, course.length, room)
    for name, work in scene.works.items():
        if isinstance(work, Metalwork | PitWork):
            take_work(work, stands.get(name), room)
    for x, y in scene.bridges:
        for side in (-1, 1):
            room.take(Box(x, y + side * (HALF + 7), 42, 7))


def take_work(work: Metalwork | PitWork, position: str | None, room: LabelRoom) -> None:
    """Takes up the rails of one piece that has a cell, and the edges of its pit."""
    if isinstance(work, PitWork):
        _pit(work, position, room)
    else:
        _piece(work, room)


def _piece(work: Metalwork, room: LabelRoom) -> None:
    for way in work.ways:
        _rails(way.course, 0, way.course.length, room)
    for end in work.cell.ends.values() if not work.ways else ():
        room.draw(Line(work.cell.at, end, HALF + RAIL))


def _pit(work: PitWork, position: str | None, room: LabelRoom) -> None:
    for name in work.cell.ends:
        course = work.course(name)
        _rails(course, 0, course.length, room)
    if bridge := work.bridge(position):
        _rails(bridge, 0, bridge.length, room)
    x, y = work.cell.at
    if work.round:
        count = max(int(work.radius * 2 * pi / 24), 12)
        points = [
            (x + cos(2 * pi * step / count) * work.radius, y + sin(2 * pi * step / count) * work.radius)
            for step in range(count + 1)
        ]
        for one, other in zip(points, points[1:], strict=False):
            room.draw(Line(one, other, 1.5))
        room.draw(Line((x - work.radius * 0.34, y), (x + work.radius * 0.34, y), work.radius * 0.34))
    else:
        for side in (-44.0, 44.0):
            room.draw(Line((x + side, y - work.half), (x + side, y + work.half), 1.5))
        for side in (-work.half, work.half):
            room.draw(Line((x - 44, y + side), (x + 44, y + side), 1.5))


def _rails(course: Course, start: float, stop: float, room: LabelRoom) -> None:
    for run in _followed(course, start, stop):
        for (left, right), (on_left, on_right) in pairwise(run):
            room.lay((left, on_left), (right, on_right), RAIL)


def _followed(course: Course, start: float, stop: float) -> list[list[tuple[Point, Point]]]:
    """Both rails as points side by side: the ends of straight parts, and bends in short steps; anew where the track
    goes on elsewhere."""
    runs = [[(course.at(start, HALF), course.at(start, -HALF))]]
    for number, (part, first, last) in enumerate(zip(course.parts, course.marks, course.marks[1:], strict=False)):
        low, high = max(first, start), min(last, stop)
        if low < high:
            if number in course.anew:
                runs.append([(part.at(0, HALF), part.at(0, -HALF))])
            steps = max(int((high - low) / STEP), 1) if isinstance(part, Bend) else 1
            for step in range(1, steps + 1):
                along = low - first + (high - low) * step / steps
                runs[-1].append((part.at(along, HALF), part.at(along, -HALF)))
    return runs
