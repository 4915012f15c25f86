"""Findings in the picture: a numbered mark at each place, in a shape of its own for each level."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from functools import partial
from itertools import accumulate, pairwise

from railbond.findings import Finding

from .course import Point
from .label_places import Label, LabelPlace, PossiblePlace, choices
from .label_room import LabelRoom
from .markup import dot, line, text
from .shapes import Box, Line

SIZE = 26.0
DIGIT = 8.8
"""How much longer a mark is for each digit of its number after the second."""
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
    widths = [SIZE + _longer(number) for number, _, _ in row]
    size = sum(widths), SIZE

    def drawn(place: LabelPlace) -> str:
        leader = line(point, place.lines[0].other, f"leader {level}") + dot(point, 3, f"spot {level}")
        ends = accumulate(widths, initial=place.box.x - size[0] / 2)
        marks = (
            flag((west + east) / 2, place.box.y, number, one)
            for (west, east), (number, one, _) in zip(pairwise(ends), row, strict=True)
        )
        return leader + "".join(marks)

    return Label(choices(_around, size, point), drawn, point, size)


def _around(size: tuple[float, float], point: Point) -> Iterator[PossiblePlace]:
    (x, y), lead = point, partial(_led_to, point)
    for far in (26, 36, 48, 62, 80, 100):
        for dx, dy in AROUND:
            yield x + dx * (far + (size[0] - SIZE) / 2), y + dy * far, lead


def _led_to(point: Point, box: Box) -> tuple[Line, ...]:
    return (Line(point, (box.x, box.y), 0.8).up_to(Box(box.x, box.y, box.width - 8, 18)),)


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
    """A number in its level's shape: an octagon, a triangle or a square, drawn out where it is a long one."""
    more = _longer(number)
    half = more / 2
    shapes = {
        "error": f"M{-4.6 - half:g} -11h{9.2 + more:g}l6.4 6.4v9.2l-6.4 6.4h{-9.2 - more:g}l-6.4 -6.4v-9.2z",
        "warning": f"M{-half:g} -13h{more:g}l13.5 23.5h{-27 - more:g}z",
        "note": f"M{-10 - half:g} -10h{20 + more:g}v20h{-20 - more:g}z",
    }
    low = 3 if level == "warning" else 0
    return (
        f'<g class="flag {level}" data-f="{number}" transform="translate({x:.1f} {y:.1f})"><path d="{shapes[level]}"/>'
        f"{text(0, low, str(number), 'number')}</g>"
    )


def _longer(number: int) -> float:
    """How much longer a mark is than that of a number of two digits."""
    return DIGIT * max(len(str(number)) - 2, 0)
