"""The wires to rails and frogs: each ends in a dot on the metal that it joins, and hops over metal that it does not."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import partial
from math import copysign, cos, hypot, pi, sin

from railbond.circuit.facts import Facts
from railbond.layout.model import Drop, FrogFeed, Layout
from trackplan.span import Span

from .course import Course, Point
from .label_places import Label, LabelPlace, PossiblePlace, choices
from .label_room import LabelRoom
from .lately import Lately
from .letters import wide
from .markup import dot, pill
from .pits import PitWork
from .scale import PILL
from .scene import LaidTrack, Scene
from .shapes import Box, Line
from .strokes import HALF, aside, place

HOP = 4.6
"""Radius of the bow in which a wire passes over a rail."""
STEP = 3.5


def feeders(facts: Facts, scene: Scene, ink: list[str], room: LabelRoom, dots: dict[Span, Point]) -> Iterator[Label]:
    """Every feeder: its wires from the rails to a label that says where they come from. When it is drawn, `dots` is
    told where one of its wires is soldered."""
    groups: dict[int, list[Drop]] = {}
    for drop in facts.layout.drops:
        groups.setdefault(id(drop.statement), []).append(drop)
    for drops in groups.values():
        points = [(drop, at) for drop in drops if (at := soldered(facts, scene, drop))]
        if points:
            yield _feeder(facts, scene, points, ink, room, dots)


def _feeder(
    facts: Facts,
    scene: Scene,
    points: list[tuple[Drop, Point]],
    ink: list[str],
    room: LabelRoom,
    dots: dict[Span, Point],
) -> Label:
    words = points[0][0].wire.name.rpartition(".")[2]
    size = wide(words, PILL, bold=True) + 12, PILL + 6
    inks = [ink[facts.wiring.wire(drop.wire)] for drop, _ in points]
    middle = sum(at[0] for _, at in points) / len(points), sum(at[1] for _, at in points) / len(points)

    def drawn(at: LabelPlace) -> str:
        lines = tuple(Line(one, at.lines[0].other, 0.85) for _, one in points) if at.led_out else at.lines
        dots[points[0][0].statement.at] = lines[0].one
        pairs = list(zip(lines, inks, strict=True))
        parts = [f'<path class="wire {name}" d="{hopped(line, room)}"/>' for line, name in pairs]
        parts += [dot(line.one, 2.6, f"solder {name}") for line, name in pairs]
        return "".join([*parts, pill(at.box, words, "supply")])

    stretch = scene.stretches.get(points[0][0].piece)
    if stretch and len({drop.piece for drop, _ in points}) == 1:
        sides = tuple(_side(facts, drop, stretch) for drop, _ in points)
        along = place(facts.layout.pieces[points[0][0].piece], stretch, points[0][0].place or 0.0)
        return Label(choices(_beside, size, stretch, along, sides), drawn, middle, size)
    return Label(choices(_around, size, tuple(at for _, at in points)), drawn, middle, size)


def _side(facts: Facts, drop: Drop, stretch: LaidTrack) -> float:
    words = facts.layout.pieces[drop.piece].template.metals[drop.metal].words
    return aside("left" if words.startswith("left") else "right") * (1 if stretch.along else -1)


def _beside(
    size: tuple[float, float], stretch: LaidTrack, along: float, sides: Sequence[float]
) -> Iterator[PossiblePlace]:
    """Places along plain track, square to it on either side."""
    course = stretch.course
    for more in (6.0, 14.0, 26.0):
        for shift in (0, 14, -14, 26, -26, 40, -40, 60, -60):
            here = along + shift
            if stretch.start + 7 <= here <= stretch.stop - 7 or not shift:
                here = min(max(here, stretch.start + 6), max(stretch.stop - 6, stretch.start + 6))
                here = next((one + 12 for one in course.jumps if abs(one - here) < 12), here)
                heading = course.heading(here)
                far = HALF + more + (abs(sin(heading)) * size[0] / 2 + abs(cos(heading)) * size[1] / 2)
                for one in (-far, far):
                    yield *course.at(here, one), partial(_square_lines, course, here, copysign(far - 1, one), sides)


def _square_lines(course: Course, here: float, far: float, sides: Sequence[float], box: Box) -> tuple[Line, ...]:
    """From the rails on which wires are soldered to their label, side by side."""
    spread = STEP if len(sides) > 1 else 0.0
    order = sorted(range(len(sides)), key=lambda one: sides[one])
    steps = {one: here + spread * (2 * number - 1) if spread else here for number, one in enumerate(order)}
    return tuple(
        Line(course.at(steps[one], side), course.at(steps[one], far), 0.85).up_to(box) for one, side in enumerate(sides)
    )


def _around(size: tuple[float, float], points: Sequence[Point]) -> Iterator[PossiblePlace]:
    """Places round the points at which wires are soldered."""
    lead = partial(_around_lines, points)
    x, y = sum(one[0] for one in points) / len(points), sum(one[1] for one in points) / len(points)
    for far in (22.0, 32.0, 46.0, 64.0):
        for step in (4, 12, 3, 5, 11, 13, 2, 6, 10, 14, 0, 8):
            angle = 2 * pi * step / 16
            yield x + cos(angle) * (far + size[0] / 2 - 8), y + sin(angle) * far, lead


def _around_lines(points: Sequence[Point], box: Box) -> tuple[Line, ...]:
    spread = 3.0 if len(points) > 1 else 0.0
    order = sorted(range(len(points)), key=lambda one: points[one])
    aside = {one: spread * (2 * number - 1 if spread else 0) for number, one in enumerate(order)}
    return tuple(Line(at, (box.x + aside[one], box.y), 0.85).up_to(box) for one, at in enumerate(points))


def soldered(facts: Facts, scene: Scene, drop: Drop) -> Point | None:
    """Where a drop is soldered to its rail, or to its half of a split ring; nowhere where another drop tells it."""
    if stretch := scene.stretches.get(drop.piece):
        along = place(facts.layout.pieces[drop.piece], stretch, drop.place or 0.0)
        return stretch.course.at(along, _side(facts, drop, stretch))
    work = scene.works.get(drop.piece)
    if isinstance(work, PitWork) and drop.statement.split is not None and drop.when:
        first = drop.metal == min(work.piece.template.bridge or (drop.metal,))
        return work.ring(float(drop.statement.split), drop.when[1]) if first and drop.when[1] else None
    return work.middle(drop.metal) if work else None


HOPPED: Lately[tuple[Line, int], str] = Lately(4000, ages=True)
"""How wires were drawn, by what lay around them."""


def hopped(line: Line, room: LabelRoom) -> str:
    """A wire as SVG path data: a bow wherever it crosses a rail that it is not soldered to."""
    if not room.marked:
        return _hopped(line, room)
    key = line, room.mark_along(line)
    return HOPPED.get(key) or HOPPED.put(key, _hopped(line, room))


def _hopped(line: Line, room: LabelRoom) -> str:
    (x, y), (u, v) = line.one, line.other
    length = hypot(u - x, v - y)
    if length < 1:
        return f"M{x:.1f} {y:.1f}"
    dx, dy = (u - x) / length, (v - y) / length
    drawn, before = [f"M{x:.1f} {y:.1f}"], 0.0
    for share in sorted(room.crossed(line)):
        far = share * length
        if far > HOP + 1 and far - before > 2 * HOP and far < length - 1:
            start, stop = far - HOP, far + HOP
            drawn.append(f"L{x + dx * start:.1f} {y + dy * start:.1f}")
            drawn.append(f"A{HOP:g} {HOP:g} 0 0 1 {x + dx * stop:.1f} {y + dy * stop:.1f}")
            before = far
    return "".join([*drawn, f"L{u:.1f} {v:.1f}"])


def frogs(facts: Facts, scene: Scene, room: LabelRoom) -> Iterator[Label]:
    """How each metal frog gets its power: a line from the frog to a label."""
    for name, work in scene.works.items():
        feeds = fed_metals(facts.layout, name)
        for metal, frog in work.frogs.items():
            yield _frog(frog, frog_words(feeds.get(metal), True), room)


def fed_metals(layout: Layout, piece: str) -> dict[int, FrogFeed]:
    """How each metal frog of a piece is fed."""
    return {frog.metal: feed for feed in layout.feeds(piece) for frog in layout.fed_frogs(feed)}


def frog_words(feed: FrogFeed | None, metal: bool) -> str:
    """How a frog is fed, in two or three words; nothing for a plastic one."""
    if not metal:
        return ""
    if feed is None:
        return "no feed"
    if feed.kind == "switched":
        return f"contacts of {feed.mover.rpartition('.')[2]}" if feed.mover else "contacts"
    words = {"stock rails": "contacts", "unpowered": "no power"}
    supply = (feed.supply or "").rpartition(".")[2]
    return words.get(feed.kind, f"auto {supply}".strip())


def _frog(frog: Point, words: str, room: LabelRoom) -> Label:
    size = wide(words, PILL - 1) + 12, PILL + 4

    def drawn(at: LabelPlace) -> str:
        wire = f'<path class="frog-wire" d="{hopped(at.lines[0], room)}"/>'
        return f"{wire}{dot(frog, 2.2, 'frog-dot')}{pill(at.box, words, 'frog-feed')}"

    return Label(choices(_above_or_below, size, frog), drawn, frog, size)


def _above_or_below(size: tuple[float, float], frog: Point) -> Iterator[PossiblePlace]:
    (x, y), lead = frog, partial(_to_edge, frog)
    for far in (26.0, 34.0, 44.0, 58.0):
        for dx in (0.0, 18.0, -18.0, 34.0, -34.0, 50.0, -50.0):
            yield x + dx, y + far, lead
            yield x + dx, y - far, lead


def _to_edge(frog: Point, box: Box) -> tuple[Line, ...]:
    return (Line(frog, (box.x, box.y - copysign(box.height / 2, box.y - frog[1])), 0.6),)
