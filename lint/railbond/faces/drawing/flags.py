"""Findings in the picture: a numbered mark at each place, in a shape of its own for each level."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from functools import partial

from railbond.findings import Finding

from .course import Point
from .label_places import Label, LabelPlace, PossiblePlace, choices
from .label_room import Box, LabelRoom, Line
from .markup import dot, line, text

SIZE = 26.0
BURST = 13.0
AROUND = (
    (0, -1), (0, 1), (0.4, -1), (-0.4, -1), (0.4, 1), (-0.4, 1), (0.9, -0.9), (-0.9, -0.9), (0.9, 0.9), (-0.9, 0.9),
)  # fmt: skip
"""Which ways a mark is led from its place: never along level track."""


def flags(findings: Sequence[Finding], at: Sequence[Point | None]) -> Iterator[Label]:
    """The marks, those of one place in a row, as near it as there is room, with a line to it."""
    rows: dict[tuple[int, int], list[tuple[int, str, Point]]] = {}
    for number, (finding, point) in enumerate(zip(findings, at, strict=True), 1):
        if point:
            rows.setdefault((round(point[0] / 8), round(point[1] / 8)), []).append((number, finding.level, point))
    for row in rows.values():
        yield _flagged(row)


def _flagged(row: list[tuple[int, str, Point]]) -> Label:
    _, level, point = row[0]
    size = SIZE * len(row), SIZE

    def drawn(place: LabelPlace) -> str:
        west = place.box.x - SIZE * (len(row) - 1) / 2
        leader = line(point, place.lines[0].other, f"leader {level}") + dot(point, 3, f"spot {level}")
        marks = (flag(west + SIZE * index, place.box.y, number, one) for index, (number, one, _) in enumerate(row))
        return leader + "".join(marks)

    return Label(choices(_around, point, size), drawn, point, size)


def _around(point: Point, size: tuple[float, float]) -> Iterator[PossiblePlace]:
    x, y = point
    for far in (26, 36, 48, 62, 80, 100):
        for dx, dy in AROUND:
            at = x + dx * (far + (size[0] - SIZE) / 2), y + dy * far
            yield PossiblePlace(Box(*at, *size), partial(_led_to, point, at, size[0] - 8))


def _led_to(point: Point, at: Point, width: float) -> tuple[Line, ...]:
    return (Line(point, at, 0.8).up_to(Box(*at, width, 18)),)


def is_burst(finding: Finding, stands: Mapping[str, str]) -> bool:
    """Whether a wheel makes a short there in this setting."""
    return (
        finding.happens == "short"
        and finding.level == "error"
        and all(stands.get(name, position) == position for name, position in finding.positions)
    )


def bursts(at: Sequence[Point | None], room: LabelRoom) -> Iterator[str]:
    """A heavy ring round each place of a short, dark and light, so that it is the loudest thing of the picture in gray
    too."""
    for x, y in filter(None, at):
        half = BURST + 4
        for step in (-half, -half / 3, half / 3, half):  # lines, past which the mark's own leader may run
            room.draw(Line((x - half, y + step), (x + half, y + step), 1.9))
        for kind in ("burst", "burst-core"):
            yield f'<circle class="{kind}" cx="{x:.1f}" cy="{y:.1f}" r="{BURST:g}"/>'


def flag(x: float, y: float, number: int, level: str) -> str:
    """A number in its level's shape: an octagon, a triangle or a square."""
    shapes = {
        "error": "M-4.6 -11h9.2l6.4 6.4v9.2l-6.4 6.4h-9.2l-6.4 -6.4v-9.2z",
        "warning": "M0 -13L13.5 10.5H-13.5z",
        "note": "M-10 -10H10V10H-10z",
    }
    low = 3 if level == "warning" else 0
    return (
        f'<g class="flag {level}" data-f="{number}" transform="translate({x:.1f} {y:.1f})"><path d="{shapes[level]}"/>'
        f"{text(0, low, str(number), 'number')}</g>"
    )
