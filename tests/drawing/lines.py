"""The middle lines of a scene as short straight bits, to see which of them cross."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from typing import NamedTuple

from railbond.faces.drawing.course import Point
from railbond.faces.drawing.scene import Scene
from railbond.layout.model import Layout

STEP = 9.0
SQUARE = 40.0


class Bit(NamedTuple):
    owner: str
    one: Point
    other: Point


def bits(scene: Scene) -> Iterator[Bit]:
    for name, stretch in scene.stretches.items():
        yield from _followed(name, stretch.course, stretch.start, stretch.stop)
    for one, other, course in scene.links:
        yield from _followed(f"{one} {other}", course, 0, course.length)
    for name, cell in scene.cells.items():
        yield from (Bit(name, cell.at, end) for end in cell.ends.values())


def _followed(name: str, course: object, start: float, stop: float) -> Iterator[Bit]:
    steps = max(int((stop - start) / STEP), 1)
    points = [course.at(start + (stop - start) * step / steps) for step in range(steps + 1)]  # type: ignore[attr-defined]
    yield from (Bit(name, *pair) for pair in zip(points, points[1:], strict=False))


def crossings(scene: Scene, layout: Layout) -> list[tuple[str, str]]:
    """The pairs of pieces whose middle lines cross, other than at a joint where they meet."""
    meet = {frozenset((meeting.one.piece, meeting.other.piece)) for meeting in layout.meetings}
    squares: defaultdict[tuple[int, int], list[Bit]] = defaultdict(list)
    for bit in bits(scene):
        for at in {(int(x // SQUARE), int(y // SQUARE)) for x, y in (bit.one, bit.other)}:
            squares[at].append(bit)
    found = set()
    for held in squares.values():
        for number, one in enumerate(held):
            for other in held[:number]:
                apart = one.owner != other.owner and frozenset((one.owner, other.owner)) not in meet
                if apart and _cross(one, other):
                    found.add((min(one.owner, other.owner), max(one.owner, other.owner)))
    return sorted(found)


def _cross(one: Bit, other: Bit) -> bool:
    return _turn(*one[1:], other.one) * _turn(*one[1:], other.other) < 0 and (
        _turn(*other[1:], one.one) * _turn(*other[1:], one.other) < 0
    )


def _turn(one: Point, two: Point, three: Point) -> float:
    return (two[0] - one[0]) * (three[1] - one[1]) - (two[1] - one[1]) * (three[0] - one[0])
