"""The metal of a piece that is no plain track, drawn from its template: stock rails, blades, frogs and all between."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cached_property
from typing import NamedTuple

from railbond.layout.model import EndAt, Piece
from railbond.layout.template import OTHER_SIDE

from .breaks import BrokenRail, broken
from .course import Course, Point, Vertex
from .scene import Cell
from .strokes import Cuts, Stroke, aside
from .ways import RailWay, Way, line_of, rail_ways, ways_of

BREAK = 3.0
"""Between a frog and a rail that it has no metal with."""

Shape = tuple[object, ...]


class MetalRun(NamedTuple):
    """A metal along a rail of a way, between two shares of its length. `plastic` has no metal."""

    rail: RailWay
    metal: int | None
    start: float
    stop: float


class Metalwork:
    """One piece in its cell. `known` keeps the breaks of pieces of one template that lie alike."""

    def __init__(self, piece: Piece, cell: Cell, known: dict[Shape, list[BrokenRail]]) -> None:
        self.piece, self.cell = piece, cell
        self._strokes: dict[tuple[object, ...], list[Stroke]] = {}
        self.ways: list[Way] = ways_of(piece, cell)
        self.rails = rail_ways(self.ways)
        shape = self._shape()
        if shape not in known:
            lines = [line_of(self.ways[rail.way].course, rail.aside) for rail in self.rails]
            known[shape] = broken(self.ways, self.rails, lines, self._is_frog)
        self.breaks = known[shape]

    def _shape(self) -> Shape:
        (x, y), ends = self.cell.at, self.cell.ends
        lies = tuple((name, round(ends[name][0] - x, 1), round(ends[name][1] - y, 1)) for name in sorted(ends))
        template = self.piece.template
        rails = tuple((name, end.left, end.right, end.routes) for name, end in template.ends.items())
        return template.metals, template.ties, template.passes, rails, lies, self.cell.upright

    def line(self, enter: str, leave: str) -> str:
        """The middle of the track from one end to another, as SVG path data; that of the way back runs against it."""
        return next(
            (way.course.path(0, way.course.length) for way in self.ways if {way.enter, way.leave} == {enter, leave}), ""
        )

    def runs_back(self, enter: str, leave: str) -> bool:
        """Whether `line` runs from the second end to the first."""
        return all((way.enter, way.leave) != (enter, leave) for way in self.ways)

    def _is_frog(self, metal: int) -> bool:
        return self.piece.template.metals[metal].frog

    @cached_property
    def runs(self) -> list[MetalRun]:
        """Every metal along every rail, also where two rails share it."""
        return [
            MetalRun(rail, metal, start, stop)
            for rail, found in zip(self.rails, self.breaks, strict=True)
            for metal, start, stop in zip(rail.chain, found.at, found.at[1:], strict=False)
        ]

    def at(self, run: MetalRun, share: float = 0.5) -> Point:
        """A place of a run, by default its middle."""
        course = self.ways[run.rail.way].course
        return course.at(course.length * (run.start + (run.stop - run.start) * share), run.rail.aside)

    @cached_property
    def frogs(self) -> dict[int, Point]:
        """Where each metal frog lies."""
        found: dict[int, Point] = {}
        for run in self.runs:
            if run.metal is not None and self._is_frog(run.metal):
                found.setdefault(run.metal, self.at(run))
        return found

    def middle(self, metal: int) -> Point | None:
        """The middle of a metal's longest run; None where it has none."""
        own = [run for run in self.runs if run.metal == metal]
        longest = max(own, key=lambda run: run.stop - run.start, default=None)
        return None if longest is None else self.at(longest, 0.62)

    def strokes(self, cuts: Cuts) -> list[Stroke]:
        """Each metal once, where no other rail has drawn it; then the ends that no way reaches. Kept by the cuts."""
        ends = (EndAt(self.piece.name, name) for name in self.piece.template.ends)
        key = self.piece.name, *(cuts.trim(end, side) for end in ends for side in ("left", "right"))
        known = self._strokes.get(key)
        if known is None:
            self._strokes.clear()
            self._strokes[key] = known = list(self._drawn(cuts))
        return known

    def _drawn(self, cuts: Cuts) -> Iterator[Stroke]:
        reached: set[int | None] = set()
        for rail, found in zip(self.rails, self.breaks, strict=True):
            for place in range(found.head, len(rail.chain) - found.tail):
                reached.add(rail.chain[place])
                yield self._stroke(rail, found, place, cuts)
        for name, end in self.piece.template.ends.items():
            if name in self.cell.ends and not {end.left, end.right} <= reached:
                yield from _half(self.piece, self.cell, name, cuts)

    def _stroke(self, rail: RailWay, found: BrokenRail, place: int, cuts: Cuts) -> Stroke:
        way, metal = self.ways[rail.way], rail.chain[place]
        length = way.course.length
        start, stop = found.at[place] * length, found.at[place + 1] * length
        frog = metal is None or self._is_frog(metal)
        if place == 0:
            start += cuts.trim(EndAt(self.piece.name, way.enter), OTHER_SIDE[rail.side])
        elif not frog:
            start += self._gap(rail, place - 1, place)
        if place == len(rail.chain) - 1:
            stop -= cuts.trim(EndAt(self.piece.name, way.leave), rail.side)
        elif not frog:
            stop -= self._gap(rail, place, place + 1)
        path = way.course.path(start, stop, rail.aside)
        kind = "plastic" if metal is None else "frog" if frog else "rail"
        shut = self._shut(metal) if metal is not None else None
        if shut is None or not {place, place + 1} & found.open.keys():
            return Stroke(self.piece.name, -1 if metal is None else metal, path, kind)
        start = found.open.get(place, start / length) * length
        stop = found.open.get(place + 1, stop / length) * length
        away = way.course.path(min(start, stop - 1), stop, rail.aside)
        return Stroke(self.piece.name, metal or 0, path, kind, shut, away)

    def _gap(self, rail: RailWay, one: int, other: int) -> float:
        """What is left free between two metals of a rail: nothing where they came as one, or only touch."""
        pair = {rail.chain[one], rail.chain[other]}
        ties = [tie for tie in self.piece.template.ties if {tie.one, tie.other} == pair]
        return 0.0 if any(tie.kind != "bond" for tie in ties) and None not in pair else BREAK

    def _shut(self, metal: int) -> tuple[str, ...] | None:
        """The positions in which a blade touches the rail beside it; None for what is no blade."""
        template = self.piece.template
        if all(blade.closure != metal for blade in template.blades):
            return None
        return tuple(
            dict.fromkeys(tie.when for tie in template.ties if tie.kind == "touch" and tie.one == metal and tie.when)
        )


def _half(piece: Piece, cell: Cell, name: str, cuts: Cuts) -> Iterator[Stroke]:
    """The rails of an end that no way reaches, from the middle on."""
    end, course = piece.template.ends[name], Course([Vertex(cell.at), Vertex(cell.ends[name])])
    for side in ("left", "right"):
        stop = course.length - cuts.trim(EndAt(piece.name, name), side)
        yield Stroke(piece.name, end.side(side), course.path(course.length / 3, stop, aside(side)))
