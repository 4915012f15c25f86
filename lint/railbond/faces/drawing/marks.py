"""What is done to the track: cuts, the ends of track, joints, and the wires to rails and frogs."""

from __future__ import annotations

from collections.abc import Iterator

from railbond.circuit.facts import Facts
from railbond.layout.template import OTHER_SIDE
from trackplan.quantities import Angle
from trackplan.statements import Couple

from .course import Course
from .label_room import LabelRoom
from .letters import wide
from .markup import bar, beyond, line, pill, text
from .pits import PitWork
from .scale import PILL, TRIM
from .scene import Scene, Terminal
from .shapes import Box, Line
from .strokes import HALF, aside, place

END_BAR = 5.0
"""Half the length of the stroke at each side of a cut."""


def cuts(facts: Facts, scene: Scene, room: LabelRoom) -> Iterator[str]:
    """Every cut: a break in the rail between two short strokes."""
    for meeting in facts.layout.meetings:
        joint = scene.joints.get(meeting.one)
        for side in meeting.gaps if joint else ():
            assert joint is not None
            yield from _cut(joint.course, joint.along, aside(side if joint.out else OTHER_SIDE[side]), room)
    for name, stretch in scene.stretches.items():
        piece = facts.layout.pieces[name]
        for link in piece.template.links:
            along = place(piece, stretch, link.offset)
            for rail, one, other in zip(("left", "right"), link.rails_one, link.rails_other, strict=True):
                if one != other:
                    yield from _cut(stretch.course, along, aside(rail) * (1 if stretch.along else -1), room)


def _cut(course: Course, along: float, left: float, room: LabelRoom) -> Iterator[str]:
    """Places past a course's end are reckoned straight on: a cut at a turnout's end shows half on each side."""
    at, heading = course.at(along, left), course.heading(along)
    for step in (-TRIM, TRIM):
        here = beyond(at, heading, step, 0)
        one, other = beyond(here, heading, 0, -END_BAR), beyond(here, heading, 0, END_BAR)
        room.draw(Line(one, other, 1.2))
        yield line(one, other, "cut")


def pits(facts: Facts, scene: Scene) -> Iterator[str]:
    """The pit of each turntable or transfer table."""
    splits: dict[str, list[Angle]] = {}
    for drop in facts.layout.drops:
        split = drop.statement.split
        if split is not None and split not in splits.setdefault(drop.piece, []):
            splits[drop.piece].append(split)
    for name, work in scene.works.items():
        if isinstance(work, PitWork):
            yield from work.outline(splits.get(name, []))


def bridges(scene: Scene) -> Iterator[str]:
    """The parapets of each bridge, along the track that passes over."""
    for x, y in scene.bridges:
        for side in (-1, 1):
            yield parapet(x, y + side * (HALF + 7), side)


def parapet(x: float, y: float, side: int) -> str:
    """A parapet whose ends flare outwards: upwards for a side of -1."""
    flare = 5 * side
    return f'<path class="parapet" d="M{x - 20:.1f} {y + flare:.1f}l6 {-flare}h28l6 {flare}"/>'


def joints(facts: Facts, scene: Scene, room: LabelRoom) -> Iterator[str]:
    """A fine stroke across both rails wherever two plain pieces meet."""
    for meeting in facts.layout.meetings:
        both = meeting.one.piece in scene.stretches and meeting.other.piece in scene.stretches
        if both and not meeting.gaps:
            joint = scene.joints[meeting.one]
            half = HALF + 3
            one, other = (joint.course.at(joint.along, side) for side in (-half, half))
            room.draw(Line(one, other, 0.8))
            yield bar(joint.course, joint.along, 0, HALF + 3, "joint")


def couplings(facts: Facts, scene: Scene, room: LabelRoom) -> Iterator[str]:
    """A broad stroke across the track wherever two modules are coupled."""
    couples = {one.at for one in facts.statements if isinstance(one, Couple)}
    for meeting in facts.layout.meetings:
        if meeting.at in couples and (joint := scene.joints.get(meeting.one)):
            one, other = (joint.course.at(joint.along, side) for side in (-HALF - 12, HALF + 12))
            room.draw(Line(one, other, 2.0))
            yield line(one, other, "coupling")


def ends(facts: Facts, scene: Scene, room: LabelRoom) -> Iterator[str]:
    """Buffers where track stops, and lamps in them, and brackets at a module's edges."""
    lamps = {str(end) for end in facts.layout.lamps}
    for terminal in scene.terminals:
        x, y = terminal.at
        if terminal.kind == "fold":
            yield fold_mark(x, y, terminal.looks, terminal.name, room)
            continue
        room.draw(Line((x, y - HALF - 4), (x, y + HALF + 4), 2.5))
        if terminal.name in lamps:
            lamp = room.take(Box(x + terminal.looks * 13, y, 16, 16))
            yield line((x, y), (lamp.x, y), "lamp-wire") + lamp_mark(lamp.x, y)
        if terminal.kind == "edge":
            yield from _edge(terminal, room)
        elif terminal.kind == "stop":
            yield line((x, y - HALF - 4), (x, y + HALF + 4), "buffer")
        else:
            yield line((x, y - HALF - 4), (x, y + HALF + 4), "loose")


def lamp_mark(x: float, y: float) -> str:
    """A lamp: a circle with a cross in it."""
    return (
        f'<circle class="lamp" cx="{x:.1f}" cy="{y:.1f}" r="6"/>'
        f'<path class="lamp-cross" d="M{x - 4.2:.1f} {y - 4.2:.1f}l8.4 8.4m0 -8.4l-8.4 8.4"/>'
    )


def fold_mark(x: float, y: float, looks: int, letter: str, room: LabelRoom | None = None) -> str:
    """A letter in a box with a point that looks where track goes on, at the same letter."""
    half, width = PILL * 0.85, wide(letter, PILL, bold=True) + 12
    box = Box(x + looks * (width / 2 + 10), y, width + 20, 2 * half)
    if room:
        room.take(box)
    shape = f"M{x + 4 * looks:.1f} {y - half:.1f}h{width * looks:.1f}l{9 * looks} {half:.1f}"
    back = f"l{-9 * looks} {half:.1f}h{-width * looks:.1f}z"
    return f'<path class="fold" d="{shape}{back}"/>' + text(x + looks * (width / 2 + 5), y, letter, "fold-words")


def _edge(terminal: Terminal, room: LabelRoom) -> Iterator[str]:
    (x, y), looks = terminal.at, terminal.looks
    half, back = HALF + 9, -7 * looks
    yield f'<path class="edge" d="M{x + back:.1f} {y - half:.1f}h{-back}v{2 * half:.1f}h{back}"/>'
    words = terminal.name.rpartition(".")[2]
    width = wide(words, PILL, bold=True) + 14
    room.draw(Line((x, y - half), (x, y + half), 2))
    for edge in (-half, half):
        room.draw(Line((x, y + edge), (x + back, y + edge), 1.5))
    yield pill(room.take(Box(x + looks * (width / 2 + 8), y, width, PILL + 8)), words, "plate")
