"""Turnouts, rail by rail: stock rails, blades and closure rails, the frog and its frog rails.

A turnout has two routes, each a course from its points to one of its other ends. The outer rail of a route is its
stock rail; the inner rails of the two routes cross in the frog.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from math import hypot
from typing import NamedTuple

from railbond.layout.model import EndAt, Piece
from railbond.layout.template import OTHER_SIDE, Template

from .course import Course, Vertex
from .scale import BEND, REACH, TRIM
from .scene import Cell
from .strokes import Cuts, Stroke, aside

CLOSED, OPEN = 0.8, 5.0
"""How far a blade's tip lies from the stock rail beside it."""
FROG = 6.0
"""Half the length of a frog."""
RIM = 12.0
"""How far a track reaches over the edge of a pit."""
BREAK = 3.0
"""Between a frog and a rail that it has no metal with."""


class Route(NamedTuple):
    """One way through a turnout. `inner` is how far its inner rail lies to the left of its course, and `frog` how
    far before the end of the course it crosses that of the other route."""

    name: str
    course: Course
    inner: float
    frog: float


def routes(piece: Piece, cell: Cell) -> list[Route]:
    """The two routes of a turnout."""
    ends = piece.template.ends
    radius = REACH * 0.8 if cell.upright else BEND
    courses = {
        name: Course([Vertex(cell.ends["points"]), Vertex(cell.at, radius), Vertex(cell.ends[name])])
        for name in piece.template.positions
    }
    inner = {name: aside(ends[name].rails["frog rail"]) for name in courses}
    one, other = courses
    frog = _crossing(courses[one], inner[one], courses[other], inner[other])
    return [Route(name, course, inner[name], frog) for name, course in courses.items()]


def _crossing(one: Course, left: float, other: Course, right: float) -> float:
    """How far before their ends the inner rails cross."""

    def apart(back: float) -> float:
        (x, y), (u, v) = one.at(one.length - back, left), other.at(other.length - back, right)
        return hypot(x - u, y - v)

    shorter = min(one.length, other.length)
    return min((shorter * step / 200 for step in range(200)), key=apart)


def is_turnout(piece: Piece) -> bool:
    """Whether a piece is a turnout of two routes with its points at one end."""
    ends = piece.template.ends
    return len(ends) == 3 and "points" in ends and len(piece.template.blades) == 2


def on_cell(piece: Piece, cell: Cell, cuts: Cuts, setting: Mapping[str, str]) -> Iterator[Stroke]:
    """The rails of a piece that is no plain track."""
    if not is_turnout(piece):
        yield from _in_pit(piece, cell, cuts, setting) if cell.tall else _halves(piece, cell, cuts)
        return
    pair = routes(piece, cell)
    for route, opposite in (pair, pair[::-1]):
        yield from _stock(piece, route, cuts)
        yield from _inner(piece, route, opposite, cuts, setting.get(piece.name, pair[0].name) == route.name)
    if not piece.template.frogs:
        yield from (Stroke(piece.name, -1, _frog_path(route), "plastic") for route in pair)


def _stock(piece: Piece, route: Route, cuts: Cuts) -> Iterator[Stroke]:
    """A route's outer rail, whole from the points to the end."""
    end = piece.template.ends[route.name]
    side = end.rails["stock rail"]
    first = cuts.trim(EndAt(piece.name, "points"), OTHER_SIDE[side])
    last = cuts.trim(EndAt(piece.name, route.name), side)
    path = route.course.path(first, route.course.length - last, -route.inner)
    yield Stroke(piece.name, end.side(side), path)


def _inner(piece: Piece, route: Route, opposite: Route, cuts: Cuts, is_set: bool) -> Iterator[Stroke]:
    """A route's blade and closure rail, its way through the frog, and its frog rail."""
    template, end = piece.template, piece.template.ends[route.name]
    side = end.rails["frog rail"]
    rail = end.side(side)
    closure = next(blade.closure for blade in template.blades if blade.open == opposite.name)
    frog = template.frogs[0].metal if template.frogs else -1
    course, length = route.course, route.course.length
    at = length - route.frog
    start = _blade(route, opposite, CLOSED if is_set else OPEN)
    last = cuts.trim(EndAt(piece.name, route.name), side)
    before, behind = (FROG + (0 if tied(template, frog, one) else BREAK) for one in (closure, rail))
    yield Stroke(piece.name, closure, course.path(start, at - before, route.inner))
    yield Stroke(piece.name, rail, course.path(at + behind, length - last, route.inner))
    if template.frogs:
        yield Stroke(piece.name, frog, _frog_path(route), "frog")


def _frog_path(route: Route) -> str:
    at = route.course.length - route.frog
    return route.course.path(at - FROG, at + FROG, route.inner)


def _blade(route: Route, opposite: Route, wanted: float) -> float:
    """Where a route's inner rail is so far from the stock rail beside it: there its blade begins."""
    for step in range(1, 100):
        along = route.course.length * step / 100
        (x, y), (u, v) = route.course.at(along, route.inner), opposite.course.at(along, route.inner)
        if hypot(x - u, y - v) >= wanted:
            return along
    return route.course.length / 2


def tied(template: Template, one: int, other: int) -> bool:
    """Whether two metals came as one piece; a plastic frog is no metal, and the rail ends before it."""
    return any({tie.one, tie.other} == {one, other} and tie.kind == "build" for tie in template.ties)


def _in_pit(piece: Piece, cell: Cell, cuts: Cuts, setting: Mapping[str, str]) -> Iterator[Stroke]:
    """The tracks round a pit up to its edge, and the bridge at those to which it is set."""
    template, at = piece.template, setting.get(piece.name)
    partner = {end: one for one, end, route in template.passes if route == at}
    partner |= {one: end for one, end, route in template.passes if route == at}
    for name, end in template.ends.items():
        x, y = cell.ends[name]
        rim = (x - RIM if x > cell.at[0] else x + RIM), y
        edge, bridge = Course([Vertex(rim), Vertex((x, y))]), Course([Vertex(cell.at), Vertex(rim)])
        for side in ("left", "right"):
            metal, stop = end.side(side), edge.length - cuts.trim(EndAt(piece.name, name), side)
            yield Stroke(piece.name, metal, edge.path(0, stop, aside(side)))
            if metal in partner:
                yield Stroke(piece.name, partner[metal], bridge.path(0, bridge.length - TRIM, aside(side)))


def _halves(piece: Piece, cell: Cell, cuts: Cuts) -> Iterator[Stroke]:
    """Track of a kind that has no picture of its own: from the middle to each end, the rails that it has there."""
    for name, end in piece.template.ends.items():
        course = Course([Vertex(cell.at), Vertex(cell.ends[name])])
        for side in ("left", "right"):
            stop = course.length - cuts.trim(EndAt(piece.name, name), side)
            yield Stroke(piece.name, end.side(side), course.path(0, stop, aside(side)))
