"""The names in the picture: of pieces, of modules, and of the districts whose bands lie below the track."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from functools import partial
from itertools import pairwise
from math import cos, sin

from railbond.circuit.facts import Facts
from railbond.layout.model import Piece

from .course import Point
from .label_places import Label, LabelChoices, LabelPlace, PossiblePlace, choices, unled
from .letters import wide
from .markup import line, text
from .pits import PitWork
from .rails import supply_of
from .scale import LARGE, NAME
from .scene import LaidTrack, Scene, Work
from .shapes import Box, Line
from .strokes import HALF

LEVEL = 0.3
"""How far track rises for its length that still counts as level."""


def turnout_names(facts: Facts, scene: Scene) -> Iterator[Label]:
    """The name of each piece that is no plain track, beside where its routes part, and what is special about it."""
    for name, cell in scene.cells.items():
        words = " ".join([short(name), *_special(facts.layout.pieces[name])])
        yield _worded(
            words, "turnout", NAME, cell.at, _round_about(cell.at, wide(words, NAME, bold=True), scene.works[name])
        )


def _special(piece: Piece) -> list[str]:
    """What a picture of rails does not show: points held by a spring, and frogs that move."""
    build = {"movable-frog": "movable frog", "sprung-frog": "sprung frog"}
    shape = piece.template.shape
    told = [f"spring: {', '.join(shape.faced.values())}"] if shape.faced else []
    told += [build[one] for one in (shape.build,) if one in build]
    return [f"({'; '.join(told)})"] if told else []


def _round_about(at: Point, width: float, work: Work) -> LabelChoices:
    return choices(_round, (width, NAME), at, tuple(work.beside()) if isinstance(work, PitWork) else ())


def _round(size: tuple[float, float], at: Point, beside: tuple[float, ...]) -> Iterator[PossiblePlace]:
    x, y = at
    for dy in beside:
        yield x, y + dy, unled
    for far in (HALF + 13, HALF + 20, HALF + 28):
        for dx in (0, 12, -12, 24, -24, 38, -38):
            yield x + dx, y + far, unled
            yield x + dx, y - far, unled


def plain_names(facts: Facts, scene: Scene) -> Iterator[Label]:
    """The name of each plain piece, beside its middle; of one that goes on in another row, in both."""
    for name, whole in scene.stretches.items():
        for stretch in _in_rows(whole):
            width = wide(short(name), NAME)
            places = choices(_beside_or_led, (width, NAME), stretch)
            yield _worded(short(name), "name", NAME, _middle(stretch), places)


def _beside_or_led(size: tuple[float, float], stretch: LaidTrack) -> Iterator[PossiblePlace]:
    yield from _beside(size, stretch)
    yield from _led(stretch)


def _led(stretch: LaidTrack) -> Iterator[PossiblePlace]:
    """Places further from plain track, to which a line leads."""
    for far in (30.0, 44.0, 60.0):
        for share in (0.5, 0.25, 0.75):
            x, y = stretch.course.at(stretch.start + (stretch.stop - stretch.start) * share)
            yield x, y + far, partial(_led_to, (x, y))
            yield x, y - far, partial(_led_to, (x, y))


def _led_to(at: Point, box: Box) -> tuple[Line, ...]:
    return (Line(at, (at[0], box.y), 0.6).up_to(box),)


def _in_rows(stretch: LaidTrack) -> list[LaidTrack]:
    """A piece row by row."""
    within = [one for one in stretch.course.jumps if stretch.start < one < stretch.stop]
    places = [stretch.start, *within, stretch.stop]
    return [stretch._replace(start=one, stop=other) for one, other in pairwise(places)]


def _worded(words: str, kind: str, size: float, at: Point, places: LabelChoices) -> Label:
    width = wide(words, size, bold=kind != "name")

    def drawn(place: LabelPlace) -> str:
        leader = ""
        if place.lines:
            (x, y), box = place.lines[0].one, place.box
            leader = line((x, y), (box.x, box.y + (box.height / 2 if box.y < y else -box.height / 2)), "name-line")
        return leader + text(place.box.x, place.box.y, words, kind)

    return Label(places, drawn, at, (width, size))


def _middle(stretch: LaidTrack) -> Point:
    return stretch.course.at((stretch.start + stretch.stop) / 2)


def _beside(
    size: tuple[float, float], stretch: LaidTrack, fars: tuple[float, ...] = (12.6, 18)
) -> Iterator[PossiblePlace]:
    """Places for a label along plain track: above it and below it, or on either side of a slope, from the middle
    outwards; then past its end."""
    course, (width, height) = stretch.course, size
    for share in (0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8):
        along = stretch.start + (stretch.stop - stretch.start) * share
        x, y = course.at(along)
        rise, run = abs(sin(course.heading(along))), abs(cos(course.heading(along)))
        for far in (HALF + one for one in fars):
            if rise < LEVEL:
                yield x, y - far, unled
                yield x, y + far, unled
                continue
            square = far + (rise * width + (run - 1) * height) / 2  # so that its near corner is as far away
            yield from ((x + way * square / rise, y, unled) for way in (1, -1))
            yield from ((*course.at(along, way * square), unled) for way in (1, -1))
    for along in (stretch.start, stretch.stop):
        x, y = stretch.course.at(along)
        for way in (1, -1):
            yield x + way * (width / 2 + 9), y, unled


def module_names(facts: Facts, scene: Scene) -> Iterator[Label]:
    """The name of each module of a meet, above or below its longest track."""
    longest: dict[str, LaidTrack] = {}
    for name, stretch in scene.stretches.items():
        module = name.rpartition(".")[0]
        if module and (module not in longest or _length(stretch) > _length(longest[module])):
            longest[module] = stretch
    for module, stretch in longest.items():
        places = choices(_beside, (wide(module, LARGE, bold=True), LARGE + 2), stretch, (32.0, 42.0, 54.0))
        yield _worded(module, "module", LARGE, _middle(stretch), places)


def _length(stretch: LaidTrack) -> float:
    return stretch.stop - stretch.start


def district_names(facts: Facts, scene: Scene, tint: Mapping[str, int]) -> Iterator[Label]:
    """The name of each supply, once for every part of the track that hangs together on it."""
    for supply, pieces in _regions(facts, scene):
        longest = max(pieces, key=lambda name: _length(scene.stretches[name]))
        known = facts.layout.supplies.get(supply)
        words = " ".join(dict.fromkeys((known.kind if known else "district", short(supply))))  # no "plug plug"
        if known and known.choices:
            words += f" (toggle: {' or '.join(map(short, known.choices))})"
        stretch = scene.stretches[longest]
        places = choices(_beside, (wide(words, NAME, bold=True), NAME), stretch, (12.8, 19.0, 30.0, 44.0))
        yield _worded(words, f"district name{tint[supply]}", NAME, _middle(stretch), places)


def _regions(facts: Facts, scene: Scene) -> Iterator[tuple[str, list[str]]]:
    """The plain pieces that meet one another and have one supply."""
    beside: dict[str, list[str]] = {}
    for meeting in facts.layout.meetings:
        beside.setdefault(meeting.one.piece, []).append(meeting.other.piece)
        beside.setdefault(meeting.other.piece, []).append(meeting.one.piece)
    supply = {name: supply_of(facts, name) for name in facts.layout.pieces}
    seen: set[str] = set()
    for name in scene.stretches:
        if name not in seen and supply[name]:
            seen.add(name)
            queue = [name]
            for here in queue:
                fresh = {one for one in beside.get(here, ()) if one not in seen and supply[one] == supply[name]}
                seen |= fresh
                queue += sorted(fresh)
            yield supply[name], [one for one in queue if one in scene.stretches]


def short(name: str) -> str:
    """A name without that of its module."""
    return name.rpartition(".")[2]
