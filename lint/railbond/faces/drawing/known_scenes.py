"""Scenes that were staged a moment ago: whoever types changes wires and words far more often than how track lies."""

from __future__ import annotations

from collections.abc import Mapping
from copy import copy
from typing import NamedTuple

from railbond.layout.model import EndAt, Layout

from .scene import Scene, Terminal
from .scissored import PLACES, scissors

MOST_KEPT = 3
"""Scenes that are known again: what is typed now, and what stood there before."""

NumberedEnd = tuple[int, str]


class TrackShape(NamedTuple):
    """All that a scene hangs on. Pieces are numbered in the plan's order: what they are called counts only where a name
    tells which part of a scissors crossover a piece is."""

    pieces: tuple[object, ...]
    meetings: tuple[tuple[NumberedEnd, NumberedEnd], ...]
    stops: tuple[NumberedEnd, ...]
    edges: tuple[tuple[str, NumberedEnd], ...]
    scissors: tuple[str, ...]


class KnownScene(NamedTuple):
    shape: TrackShape
    names: tuple[str, ...]
    scene: Scene


class RecentScenes:
    """The last few scenes, by what they hang on."""

    def __init__(self) -> None:
        self.kept: list[KnownScene] = []

    def get(self, shape: TrackShape, layout: Layout) -> Scene | None:
        """A scene of that shape, of the pieces of this layout; None where none is known."""
        for known in list(self.kept):
            if known.shape == shape:
                return self.put(shape, layout, _of(known, layout))
        return None

    def put(self, shape: TrackShape, layout: Layout, scene: Scene) -> Scene:
        others = [one for one in self.kept if one.shape != shape]
        self.kept = [KnownScene(shape, tuple(layout.pieces), scene), *others][:MOST_KEPT]
        return scene


def track_shape(layout: Layout, rooms: Mapping[str, float]) -> TrackShape:
    """What the scene of a layout hangs on, with so much room for each piece."""
    number = {name: place for place, name in enumerate(layout.pieces)}
    pieces = ((one.template, rooms[name], _part(name)) for name, one in layout.pieces.items())
    pairs = ((one.one, one.other) for one in layout.meetings)
    edges = ((name, edge.end) for name, edge in layout.edges.items() if edge.end)
    return TrackShape(
        tuple(pieces),
        tuple(((number[one.piece], one.end), (number[other.piece], other.end)) for one, other in pairs),
        tuple((number[end.piece], end.end) for end in layout.stops),
        tuple((name, (number[end.piece], end.end)) for name, end in edges),
        tuple(scissors(layout)),
    )


def _part(name: str) -> str:
    return name if name.rpartition("-")[2] in PLACES else ""


def _of(known: KnownScene, layout: Layout) -> Scene:
    """A known scene with the pieces of a layout of its shape, whatever they are called now."""
    scene = copy(known.scene)
    renamed = dict(zip(known.names, layout.pieces, strict=True))
    if known.names != tuple(layout.pieces):
        _rename(scene, renamed)
    scene.works = {}
    for name, work in known.scene.works.items():
        scene.works[renamed[name]] = own = copy(work)
        own.piece = layout.pieces[renamed[name]]
    return scene


def _rename(scene: Scene, renamed: Mapping[str, str]) -> None:
    def end_now(end: EndAt) -> EndAt:
        return EndAt(renamed[end.piece], end.end)

    scene.stretches = {renamed[name]: one for name, one in scene.stretches.items()}
    scene.cells = {renamed[name]: one for name, one in scene.cells.items()}
    scene.joints = {end_now(end): one for end, one in scene.joints.items()}
    scene.links = [(end_now(one), end_now(other), course) for one, other, course in scene.links]
    scene.terminals = [_terminal_now(one, renamed) for one in scene.terminals]


def _terminal_now(terminal: Terminal, renamed: Mapping[str, str]) -> Terminal:
    """Where track ends, it is called after the piece that ends there."""
    if terminal.kind not in ("stop", "loose"):
        return terminal
    piece, _, end = terminal.name.rpartition(".")
    return terminal._replace(name=f"{renamed[piece]}.{end}")
