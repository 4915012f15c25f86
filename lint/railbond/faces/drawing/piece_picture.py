"""A small picture of one piece of trackwork, with the name of each rail that somebody must find on it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from functools import partial

from railbond.circuit.facts import Facts

from .course import Point
from .drawn import Drawn, PaperWindow, whole
from .label_places import Label, LabelPlace, PossiblePlace, choices
from .label_room import LabelRoom
from .labels import placed
from .letters import wide
from .markup import dot, line, text
from .metalwork import Metalwork
from .obstacles import take_work
from .picture import rooms
from .pits import PitWork
from .scale import NAME
from .scene import Scene
from .shapes import Box, Line
from .staging import stage
from .strokes import Cuts, Stroke

MARGIN = 12.0
SIZE = 1.6
"""How much larger it is shown than the piece in a drawing of the whole."""


def piece_pictures(facts: Facts, marked: Mapping[str, Mapping[int, str]]) -> list[tuple[str, str]]:
    """A picture of each piece that has metals to find, by their words, and is special enough to have one."""
    scene = stage(facts.layout, rooms(facts)) if marked else Scene()
    drawn = ((piece, piece_picture(facts, scene, piece, metals)) for piece, metals in marked.items())
    return [(piece, svg) for piece, svg in drawn if svg]


def piece_picture(facts: Facts, scene: Scene, name: str, marked: Mapping[int, str]) -> str:
    """The piece as it lies in the whole drawing, each metal of `marked` with its words; empty where it has no cell."""
    work = scene.works.get(name)
    if not isinstance(work, Metalwork | PitWork):
        return ""
    room = LabelRoom()
    x, y = work.cell.at
    room.reach = [x, x, y, y]
    position = next(iter(facts.layout.pieces[name].template.positions), None)
    take_work(work, position, room)
    body = [*_rails(facts, work, position)]
    spots = {metal: at for metal in marked if (at := work.frogs.get(metal) or work.middle(metal))}
    body += placed([_named(marked[metal], at) for metal, at in spots.items()], room)
    west, east, top, low = room.reach
    frame = PaperWindow(west - MARGIN, top - MARGIN, east - west + 2 * MARGIN, low - top + 2 * MARGIN)
    words = [f"{name}: {', '.join(marked.values())}"]
    return whole(
        Drawn(["".join(body)], frame, f"Where to find the rails of {name}", words, list), styled=False, size=SIZE
    )


def _rails(facts: Facts, work: Metalwork | PitWork, position: str | None) -> Iterator[str]:
    strokes: list[Stroke] = list(work.strokes(Cuts(facts.layout)))
    if isinstance(work, PitWork):
        yield from work.outline([])
        strokes += work.bridge_strokes(position)
    for stroke in sorted(strokes, key=lambda one: ("rail", "plastic", "frog").index(one.kind)):
        kind = "plastic" if stroke.metal < 0 else f"{stroke.kind} bare"
        yield f'<path class="{kind}" d="{stroke.path}"/>'


def _named(words: str, at: Point) -> Label:
    size = wide(words, NAME, bold=True), NAME

    def drawn(place: LabelPlace) -> str:
        return (
            line(at, place.lines[0].other, "name-line") + dot(at, 2.8, "probe") + text(*place.box[:2], words, "turnout")
        )

    return Label(choices(_around, size, at), drawn, at, size)


def _around(size: tuple[float, float], at: Point) -> Iterator[PossiblePlace]:
    (x, y), lead = at, partial(_led_to, at)
    for far in (26.0, 38.0, 54.0, 74.0):
        for dx in (0.0, 24.0, -24.0, 48.0, -48.0):
            for way in (-1, 1):
                yield x + dx, y + way * far, lead


def _led_to(at: Point, box: Box) -> tuple[Line, ...]:
    return (Line(at, (box.x, box.y), 0.8).up_to(box),)
