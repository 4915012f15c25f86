"""Where in the picture a finding lies: at the wire, the cut or the metal that is at fault."""

from __future__ import annotations

import re
from bisect import bisect_right
from collections import Counter
from collections.abc import Iterator, Mapping, Sequence

from railbond.circuit.facts import Facts
from railbond.findings import Finding
from railbond.layout.model import EndAt
from trackplan.quantities import read_quantity
from trackplan.span import Span

from .course import Point
from .metalwork import Metalwork
from .scene import Scene
from .strokes import aside, place
from .wires import fed_metals, soldered


def places(facts: Facts, scene: Scene, findings: Sequence[Finding], dots: Mapping[Span, Point]) -> list[Point | None]:
    """Where each finding lies in the picture; None for what is about no track. `dots` tells where wires of which
    statement are drawn."""
    if not findings:
        return []
    chart = PlaceChart(facts, scene, dots)
    return [chart.find(finding) for finding in findings]


class PlaceChart:
    """Where each statement's work lies, and each metal."""

    def __init__(self, facts: Facts, scene: Scene, dots: Mapping[Span, Point]) -> None:
        self.facts, self.scene = facts, scene
        self.work: dict[Span, Point] = dict(dots)
        self.track: dict[Span, Point] = {}
        layout = facts.layout
        self.edges = {name: edge.end for name, edge in layout.edges.items()}
        for drop in layout.drops:
            if point := soldered(facts, scene, drop):
                self.work.setdefault(drop.statement.at, point)
        lines = [piece.statement.at for piece in layout.pieces.values()]
        self.shared = {line for line, count in Counter(lines).items() if count > 1}
        for name, piece in layout.pieces.items():
            if point := self.piece(name):
                self.track.setdefault(piece.statement.at, point)
                self.track |= {work.at: point for work in piece.work if work.at not in self.track}
        self._frogs()
        self._joints()
        self._runs()
        self.spans = self.track | self.work
        self.order = sorted(self.spans)
        self.metals: dict[str, list[int]] = {}
        for one in sorted({*facts.graph.rails, *facts.graph.frogs}):
            self.metals.setdefault(facts.piece_of(one), []).append(one)

    def _frogs(self) -> None:
        for feed in self.facts.layout.frogs.values():
            work = self.scene.works.get(feed.piece)
            own = fed_metals(self.facts.layout, feed.piece)
            for metal, point in work.frogs.items() if work else ():
                if own.get(metal) is feed:
                    self.work.setdefault(feed.statement.at, point)

    def _joints(self) -> None:
        layout, joints = self.facts.layout, self.scene.joints
        for meeting in layout.meetings:
            for side, gap in meeting.gaps.items():
                if joint := joints.get(meeting.one):
                    left = aside(side) * (1 if joint.out else -1)
                    self.work.setdefault(gap.at, joint.course.at(joint.along, left))
        for edge in layout.edges.values():
            if edge.end and (joint := joints.get(edge.end)):
                self.work.setdefault(edge.statement.at, joint.course.at(joint.along))

    def _runs(self) -> None:
        """A bus run lies where the first feeder from its terminal is."""
        fed: dict[str, Point] = {}
        for drop in self.facts.layout.drops:
            if drop.wire.name not in fed and (point := soldered(self.facts, self.scene, drop)):
                fed[drop.wire.name] = point
        runs = self.facts.layout.runs
        for run in (*runs, *reversed(runs)):
            if point := fed.get(run.terminal):
                self.work.setdefault(run.statement.at, point)
                fed.setdefault(run.source, point)

    def piece(self, name: str) -> Point | None:
        if stretch := self.scene.stretches.get(name):
            return stretch.course.at((stretch.start + stretch.stop) / 2)
        return self.scene.cells[name].at if name in self.scene.cells else None

    def find(self, finding: Finding) -> Point | None:
        """The wire or cut of its line; else the metal that its words name; else the track of its line."""
        span = self._span(finding.at)
        if span in self.work and span not in self.shared:
            return self.work[span]
        named = (self._named(name) for name in finding.names)
        by_words = next(self._by_words(finding), None) or next(filter(None, named), None)
        if span is None or span in self.shared:
            return by_words or (self.spans[span] if span else None)
        return next(self._by_words(finding), None) or self.spans[span]

    def _span(self, at: Span) -> Span | None:
        before = bisect_right(self.order, at._replace(end=1 << 60)) - 1
        if before < 0:
            return None
        span = self.order[before]
        return span if span.path == at.path and span.start <= at.start <= span.end else None

    def _by_words(self, finding: Finding) -> Iterator[Point]:
        """Places that the words speak of: where two metals meet that both are named, an end of a piece, a metal."""
        metals = self._metals_in(finding)
        yield from self._meetings(metals)
        yield from self._between(finding.names[:2] if not metals else ())
        for amount, name in re.findall(r"([\d.]+ (?:mm|cm|m|in|ft)) from ([\w-]+(?:\.[\w-]+)+)", finding.message):
            if point := self._along(name, amount):
                yield point
        ends = [name for name in finding.names if "." in name]
        for name in (*ends, *re.findall(r"[\w-]+(?:\.[\w-]+)+", finding.message)):
            if point := self._end(name):
                yield point
        yield from filter(None, map(self.metal, metals))
        if "frog" in finding.message or "dead metal" in finding.message:
            yield from filter(None, (self._plastic(name) for name in finding.names))

    def _metals_in(self, finding: Finding) -> list[int]:
        """The rails and frogs that the words name, in their order."""
        own = (one for name in dict.fromkeys(finding.names) for one in self.metals.get(name, ()))
        named = ((_whole(self.facts.graph.names[one], finding.message), one) for one in own)
        return [one for _, one in sorted((start, one) for start, one in named if start is not None)]

    def _meetings(self, metals: Sequence[int]) -> Iterator[Point]:
        owners = {self.facts.piece_of(one) for one in metals}
        for meeting in self.facts.layout.meetings if len(owners) > 1 else ():
            joint = self.scene.joints.get(meeting.one)
            if joint and {meeting.one.piece, meeting.other.piece} <= owners:
                end = self.facts.layout.pieces[meeting.one.piece].template.ends[meeting.one.end]
                own = self.facts.wiring.metal(meeting.one.piece, end.left) in metals
                yield joint.course.at(joint.along, aside("left" if own else "right") * (1 if joint.out else -1))

    def _between(self, names: Sequence[str]) -> Iterator[Point]:
        """Where two pieces meet."""
        for meeting in self.facts.layout.meetings if len(set(names)) > 1 else ():
            joint = self.scene.joints.get(meeting.one)
            if joint and {meeting.one.piece, meeting.other.piece} == {*names}:
                yield joint.course.at(joint.along)

    def metal(self, conductor: int) -> Point | None:
        """The middle of a rail or frog."""
        name = self.facts.piece_of(conductor)
        metal = conductor - self.facts.wiring.first[name]
        if work := self.scene.works.get(name):
            return work.frogs.get(metal) or work.middle(metal)
        stretch = self.scene.stretches.get(name)
        if not stretch:
            return None
        words = self.facts.layout.pieces[name].template.metals[metal].words
        left = aside("left" if words.startswith("left") else "right") * (1 if stretch.along else -1)
        return stretch.course.at((stretch.start + stretch.stop) / 2, left)

    def _plastic(self, name: str) -> Point | None:
        """The frog of a piece, whether of metal or not."""
        work = self.scene.works.get(name)
        if not isinstance(work, Metalwork):
            return None
        plastic = (work.at(run) for run in work.runs if run.metal is None)
        return next(iter(work.frogs.values()), None) or next(plastic, None)

    def _end(self, name: str) -> Point | None:
        piece, _, end = name.rpartition(".")
        joint = self.scene.joints.get(self.edges.get(name) or EndAt(piece, end))
        return joint.course.at(joint.along) if joint else None

    def _along(self, name: str, amount: str) -> Point | None:
        """A place of plain track, so far from its end."""
        piece, _, end = name.rpartition(".")
        stretch, own = self.scene.stretches.get(piece), self.facts.layout.pieces.get(piece)
        try:
            meters = float(read_quantity("LENGTH", amount))
        except ValueError:
            return None
        if not stretch or not own or end not in own.template.ends:
            return None
        length = max(metal.stop for metal in own.template.metals)
        return stretch.course.at(
            place(own, stretch, meters if end == next(iter(own.template.ends)) else length - meters)
        )

    def _named(self, name: str) -> Point | None:
        return self._end(name) or self.piece(name)


def _whole(name: str, text: str) -> int | None:
    """Where a name begins in a text that does not go on as another, longer one."""
    start = text.find(name)
    while start >= 0:
        after = text[start + len(name) : start + len(name) + 1]
        if not after.isalnum() and after not in ("_", "-"):
            return start
        start = text.find(name, start + 1)
    return None
