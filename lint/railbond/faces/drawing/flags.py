"""Findings in the picture: a numbered mark at each place, in a shape of its own for each level."""

from __future__ import annotations

from bisect import bisect_right
from collections import Counter
from collections.abc import Iterator, Mapping, Sequence

from railbond.circuit.facts import Facts
from railbond.findings import Finding
from railbond.layout.model import EndAt
from trackplan.span import Span

from .course import Point
from .label_room import Box, Line
from .labels import Label, LabelPlace
from .markup import dot, line, text
from .scene import Scene
from .wires import soldered

SIZE = 26.0
AROUND = (
    (0, -1), (0, 1), (0.4, -1), (-0.4, -1), (0.4, 1), (-0.4, 1), (0.9, -0.9), (-0.9, -0.9), (0.9, 0.9), (-0.9, 0.9),
)  # fmt: skip
"""Which ways a mark is led from its place: never along level track."""


def places(facts: Facts, scene: Scene, findings: Sequence[Finding], dots: Mapping[Span, Point]) -> list[Point | None]:
    """Where each finding lies in the picture; None for what is about no track. `dots` tells where wires of which
    statement are drawn."""
    if not findings:
        return []
    chart = PlaceChart(facts, scene, dots)
    return [chart.find(finding) for finding in findings]


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

    return Label(_around(point, size), drawn, point, size)


def _around(point: Point, size: tuple[float, float]) -> Iterator[LabelPlace]:
    x, y = point
    for far in (26, 36, 48, 62, 80, 100):
        for dx, dy in AROUND:
            at = x + dx * (far + (size[0] - SIZE) / 2), y + dy * far
            yield LabelPlace(Box(*at, *size), (Line(point, at, 0.8).up_to(Box(*at, size[0] - 8, 18)),), (1.0,))


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


class PlaceChart:
    """Where each statement's work lies."""

    def __init__(self, facts: Facts, scene: Scene, dots: Mapping[Span, Point]) -> None:
        self.scene = scene
        self.spans: dict[Span, Point] = dict(dots)
        layout = facts.layout
        self.edges = {name: edge.end for name, edge in layout.edges.items()}
        for drop in layout.drops:
            if point := soldered(facts, scene, drop):
                self.spans.setdefault(drop.statement.at, point)
        lines = [piece.statement.at for piece in layout.pieces.values()]
        self.shared = {line for line, count in Counter(lines).items() if count > 1}
        for name, piece in layout.pieces.items():
            if point := self.piece(name):
                self.spans.setdefault(piece.statement.at, point)
                self.spans |= {work.at: point for work in piece.work if work.at not in self.spans}
        for feed in layout.frogs.values():
            work = scene.works.get(feed.piece)
            if point := next(iter(work.frogs.values()), None) if work else None:
                self.spans.setdefault(feed.statement.at, point)
        for meeting in layout.meetings:
            for gap in meeting.gaps.values():
                if joint := scene.joints.get(meeting.one):
                    self.spans.setdefault(gap.at, joint.course.at(joint.along))
        for edge in layout.edges.values():
            if edge.end and (joint := scene.joints.get(edge.end)):
                self.spans.setdefault(edge.statement.at, joint.course.at(joint.along))
        self._runs(facts)
        self.order = sorted(self.spans)

    def _runs(self, facts: Facts) -> None:
        """A bus run lies where the first feeder from its terminal is."""
        fed: dict[str, Point] = {}
        for drop in facts.layout.drops:
            if drop.wire.name not in fed and (point := soldered(facts, self.scene, drop)):
                fed[drop.wire.name] = point
        for run in (*facts.layout.runs, *reversed(facts.layout.runs)):
            if point := fed.get(run.terminal):
                self.spans.setdefault(run.statement.at, point)
                fed.setdefault(run.source, point)

    def piece(self, name: str) -> Point | None:
        if stretch := self.scene.stretches.get(name):
            return stretch.course.at((stretch.start + stretch.stop) / 2)
        return self.scene.cells[name].at if name in self.scene.cells else None

    def find(self, finding: Finding) -> Point | None:
        named = [self._named(name) for name in finding.names]
        if finding.names and "." in finding.names[0] and (point := self._named(finding.names[0])):
            return point
        if finding.at in self.shared and (point := next(filter(None, named), None)):
            return point
        before = bisect_right(self.order, finding.at._replace(end=1 << 60)) - 1
        if before >= 0 and self._holds(self.order[before], finding.at):
            return self.spans[self.order[before]]
        return next((point for point in named if point), None)

    def _holds(self, span: Span, at: Span) -> bool:
        return span.path == at.path and span.start <= at.start <= span.end

    def _named(self, name: str) -> Point | None:
        piece, _, end = name.rpartition(".")
        joint = self.scene.joints.get(self.edges.get(name) or EndAt(piece, end))
        return joint.course.at(joint.along) if joint else self.piece(name)
