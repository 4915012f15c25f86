"""What is done to the track: cuts, the ends of track, joints, and the wires to rails and frogs."""

from __future__ import annotations

from collections.abc import Iterator
from math import hypot

from railbond.circuit.facts import Facts
from railbond.layout.model import Drop, FrogFeed
from railbond.layout.template import OTHER_SIDE
from trackplan.statements import Couple

from .course import Course, Point
from .label_room import Box, LabelRoom, wide
from .markup import bar, beyond, dot, line, pill
from .scale import GAUGE, PILL, PIT, TRIM
from .scene import Scene, Terminal
from .strokes import HALF, aside, place
from .turnouts import is_turnout, routes

END_BAR = 5.0
"""Half the length of the stroke at each side of a cut."""


def cuts(facts: Facts, scene: Scene) -> Iterator[str]:
    """Every cut: a break in the rail between two short strokes."""
    for meeting in facts.layout.meetings:
        joint = scene.joints.get(meeting.one)
        for side in meeting.gaps if joint else ():
            assert joint is not None
            yield from _cut(joint.course, joint.along, aside(side if joint.out else OTHER_SIDE[side]))
    for name, stretch in scene.stretches.items():
        piece = facts.layout.pieces[name]
        for link in piece.template.links:
            along = place(piece, stretch, link.offset)
            for rail, one, other in zip(("left", "right"), link.rails_one, link.rails_other, strict=True):
                if one != other:
                    yield from _cut(stretch.course, along, aside(rail) * (1 if stretch.along else -1))


def _cut(course: Course, along: float, left: float) -> Iterator[str]:
    """Places past a course's end are reckoned straight on: a cut at a turnout's end shows half on each side."""
    at, heading = course.at(along, left), course.heading(along)
    for step in (-TRIM, TRIM):
        here = beyond(at, heading, step, 0)
        yield line(beyond(here, heading, 0, -END_BAR), beyond(here, heading, 0, END_BAR), "cut")


def pits(scene: Scene) -> Iterator[str]:
    """The pit of each turntable or transfer table."""
    for cell in scene.cells.values():
        if cell.tall:
            (x, y), heights = cell.at, [end[1] for end in cell.ends.values()]
            half = max(heights) - y + PIT - 8
            yield (
                f'<rect class="pit" x="{x - PIT + 4:.1f}" y="{y - half:.1f}" width="{2 * PIT - 8:.1f}"'
                f' height="{2 * half:.1f}" rx="{PIT - 4:.1f}"/>'
            )


def bridges(scene: Scene) -> Iterator[str]:
    """The parapets of each bridge, along the track that passes over."""
    for x, y in scene.bridges:
        for side in (-1, 1):
            yield parapet(x, y + side * (HALF + 7), side)


def parapet(x: float, y: float, side: int) -> str:
    """A parapet whose ends flare outwards: upwards for a side of -1."""
    flare = 5 * side
    return f'<path class="parapet" d="M{x - 20:.1f} {y + flare:.1f}l6 {-flare}h28l6 {flare}"/>'


def joints(facts: Facts, scene: Scene) -> Iterator[str]:
    """A fine stroke across both rails wherever two plain pieces meet."""
    for meeting in facts.layout.meetings:
        both = meeting.one.piece in scene.stretches and meeting.other.piece in scene.stretches
        if both and not meeting.gaps:
            joint = scene.joints[meeting.one]
            yield bar(joint.course, joint.along, 0, HALF + 3, "joint")


def couplings(facts: Facts, scene: Scene) -> Iterator[str]:
    """A broad stroke across the track wherever two modules are coupled."""
    couples = {one.at for one in facts.statements if isinstance(one, Couple)}
    for meeting in facts.layout.meetings:
        if meeting.at in couples and (joint := scene.joints.get(meeting.one)):
            yield bar(joint.course, joint.along, 0, HALF + 12, "coupling")


def ends(scene: Scene, shelf: LabelRoom) -> Iterator[str]:
    """Buffers where track stops, and brackets at a module's edges."""
    for terminal in scene.terminals:
        x, y = terminal.at
        if terminal.kind == "edge":
            yield from _edge(terminal, shelf)
        elif terminal.kind == "stop":
            yield line((x, y - HALF - 4), (x, y + HALF + 4), "buffer")
        else:
            yield line((x, y - HALF - 4), (x, y + HALF + 4), "loose")


def _edge(terminal: Terminal, shelf: LabelRoom) -> Iterator[str]:
    (x, y), looks = terminal.at, terminal.looks
    half, back = HALF + 9, -7 * looks
    yield f'<path class="edge" d="M{x + back:.1f} {y - half:.1f}h{-back}v{2 * half:.1f}h{back}"/>'
    words = terminal.name.rpartition(".")[2]
    width = wide(words, PILL) + 14
    yield pill(shelf.take(Box(x + looks * (width / 2 + 8), y, width, PILL + 8)), words, "plate")


def feeders(facts: Facts, scene: Scene, ink: list[str], shelf: LabelRoom) -> Iterator[str]:
    """Every feeder: its wires from the rails to a label that says where they come from."""
    groups: dict[int, list[Drop]] = {}
    for drop in facts.layout.drops:
        groups.setdefault(id(drop.statement), []).append(drop)
    for drops in groups.values():
        points = [(drop, at) for drop in drops if (at := soldered(facts, scene, drop))]
        if points:
            words = drops[0].wire.name.rpartition(".")[2]
            yield from _wires(facts, points, ink, words, shelf)


def soldered(facts: Facts, scene: Scene, drop: Drop) -> Point | None:
    """Where a drop is soldered to its rail."""
    piece = facts.layout.pieces[drop.piece]
    if stretch := scene.stretches.get(drop.piece):
        side = "left" if piece.template.metals[drop.metal].words.startswith("left") else "right"
        along = place(piece, stretch, drop.place or 0.0)
        return stretch.course.at(along, aside(side) * (1 if stretch.along else -1))
    if not is_turnout(piece) or drop.piece not in scene.cells:
        return None
    for route in routes(piece, scene.cells[drop.piece]):
        end = piece.template.ends[route.name]
        if drop.metal in (end.left, end.right):
            outer = drop.metal == end.side(end.rails["stock rail"])
            left = -route.inner if outer else route.inner
            return route.course.at(route.course.length - route.frog / 2, left)
    return None


def _wires(
    facts: Facts, points: list[tuple[Drop, Point]], ink: list[str], words: str, shelf: LabelRoom
) -> Iterator[str]:
    x = sum(at[0] for _, at in points) / len(points)
    y = sum(at[1] for _, at in points) / len(points)
    width = wide(words, PILL) + 14
    box = shelf.put(
        Box(x + dx, y + sign * far, width, PILL + 6)
        for far in (HALF + 17, HALF + 22, HALF + 30)
        for dx in (0, 14, -14, 26, -26)
        for sign in (1, -1)
    )
    spread = 3.5 if len(points) > 1 else 0.0
    for number, (drop, at) in enumerate(sorted(points, key=lambda one: one[1])):
        name = ink[facts.wiring.wire(drop.wire)]
        foot = box.x + spread * (2 * number - 1), box.y
        yield line((at[0] + (foot[0] - box.x), at[1]), foot, f"wire {name}")
        yield dot((at[0] + (foot[0] - box.x), at[1]), 2.6, f"solder {name}")
    yield pill(box, words, "supply")


def frogs(facts: Facts, scene: Scene, shelf: LabelRoom) -> Iterator[str]:
    """How each metal frog gets its power: a line from the frog to a label."""
    for name, cell in scene.cells.items():
        piece = facts.layout.pieces[name]
        if is_turnout(piece) and (words := frog_words(facts.layout.frogs.get(name), bool(piece.template.frogs))):
            route = routes(piece, cell)[0]
            frog = route.course.at(route.course.length - route.frog, route.inner)
            yield from _frog_label(frog, words, shelf)


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


def _frog_label(frog: Point, words: str, shelf: LabelRoom) -> Iterator[str]:
    width = wide(words, PILL - 1) + 12
    box = shelf.put(
        Box(frog[0] + dx, frog[1] + dy, width, PILL + 4)
        for far in (26, 32, 40)
        for dx in (0, 18, -18, 34, -34)
        for dy in (far, -far)
    )
    edge = box.y - (box.height / 2 if box.y > frog[1] else -box.height / 2)
    yield line(frog, (box.x, edge), "frog-wire")
    yield dot(frog, 2.2, "frog-dot")
    yield pill(box, words, "frog-feed")


def track_boxes(scene: Scene, shelf: LabelRoom) -> None:
    """Takes up the room of the track itself, so that no label covers it."""
    courses = [(one.course, one.start, one.stop) for one in scene.stretches.values()]
    courses += [(course, 0.0, course.length) for _, _, course in scene.links]
    for course, start, stop in courses:
        for step in range(int((stop - start) / 10) + 1):
            shelf.take(Box(*course.at(start + step * 10), GAUGE + 6, GAUGE + 6))
    for cell in scene.cells.values():
        for end in cell.ends.values():
            _along(cell.at, end, shelf)


def _along(one: Point, other: Point, shelf: LabelRoom) -> None:
    steps = max(int(hypot(other[0] - one[0], other[1] - one[1]) / 10), 1)
    for step in range(steps + 1):
        share = step / steps
        x, y = one[0] + (other[0] - one[0]) * share, one[1] + (other[1] - one[1]) * share
        shelf.take(Box(x, y, GAUGE + 6, GAUGE + 6))
