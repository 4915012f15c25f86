"""Where one track passes over another: the lower one is broken there, and parapets stand beside the upper one."""

from __future__ import annotations

from collections.abc import Iterator

from railbond.circuit.facts import Facts

from .course import Course
from .marks import bridges
from .rails import painted
from .scene import Scene
from .strokes import HALF, Stroke, aside

SPAN = 22.0
"""Half the length of the upper track that is drawn anew."""


def overpasses(facts: Facts, scene: Scene, ink: list[str], live: bool) -> Iterator[str]:
    """The upper track at each bridge, on a ground that hides the lower one, and its parapets."""
    for x, y in scene.bridges:
        yield (
            f'<rect class="ground" x="{x - 19:.1f}" y="{y - HALF - 5:.1f}" width="38" height="{2 * HALF + 10:.1f}"/>'
        )
        for name, course, along, is_along in _upper(scene, x, y):
            for stroke in _strokes(facts, name, course, along, is_along):
                yield from painted(facts, stroke, ink, {}, live)
    yield from bridges(scene)


def _upper(scene: Scene, x: float, y: float) -> Iterator[tuple[str, Course, float, bool]]:
    """The plain track that is level there, where on its course that is, and whether it looks along it."""
    for name, stretch in scene.stretches.items():
        for part, first, last in zip(
            stretch.course.parts, stretch.course.marks, stretch.course.marks[1:], strict=False
        ):
            (px, py), (qx, qy) = part.at(0, 0), part.at(last - first, 0)
            if abs(py - y) < 0.5 and abs(qy - y) < 0.5 and min(px, qx) - 1 <= x <= max(px, qx) + 1:
                along = first + abs(x - px)
                if stretch.start - 1 <= along <= stretch.stop + 1:
                    yield name, stretch.course, along, stretch.along


def _strokes(facts: Facts, name: str, course: Course, along: float, is_along: bool) -> Iterator[Stroke]:
    template = facts.layout.pieces[name].template
    for side in ("left", "right"):
        own = [index for index, metal in enumerate(template.metals) if metal.words.startswith(side)]
        left = aside(side) * (1 if is_along else -1)
        path = course.path(max(along - SPAN, 0), min(along + SPAN, course.length), left)
        yield Stroke(name, own[len(own) // 2], path)
