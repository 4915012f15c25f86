"""From a layout to its scene: the net prepared, what is too wide folded into rows, and each part put in its place."""

from __future__ import annotations

from collections.abc import Mapping
from copy import copy
from math import ceil, sqrt

from railbond.layout.model import Layout, Piece

from .apex import raise_apexes
from .breaks import BrokenRail
from .bridges import bridge
from .caps import cap, join_crossovers
from .chains import Half, put_chain
from .facing import face, is_straight, length
from .folding import fold
from .known_scenes import RecentScenes, track_shape
from .ladders import join_ladders
from .laid_part import LaidPart
from .lately import Lately
from .metalwork import Metalwork, Shape
from .net import Net, Strand
from .pits import PitWork
from .scale import LANE
from .scene import Cell, Scene
from .shelves import shelved
from .skeleton import skeleton
from .surface import Faces, darts_of
from .turns import turns

MANY = 150
"""A part of more nodes than these is folded before it is laid out."""
ROW = 30
"""About so many nodes make a row of such a part."""
APART = 2 * LANE
"""Between rows, for what is written beside the track."""
LONG = 2000
"""A part that is no longer than this is never folded."""
FLATTEST = 5.0
"""Nor one that is at most so many times as wide as high."""
BROAD = 2.5
"""How much wider than high the rows of one that is are together."""


KNOWN = RecentScenes()
WORKS: Lately[tuple[object, ...], Metalwork] = Lately(600)
"""The metal of pieces, by their templates and how they lie."""


def stage(layout: Layout, rooms: dict[str, float]) -> Scene:
    """Lays out all track. `rooms` is how long each plain piece must at least be drawn."""
    shape = track_shape(layout, rooms)
    return KNOWN.get(shape, layout) or KNOWN.put(shape, layout, _staged(layout, rooms))


def _staged(layout: Layout, rooms: dict[str, float]) -> Scene:
    net, parts = laid(layout, rooms)
    scene = Scene()
    halves: dict[int, Half] = {}
    air = [LANE // 2 if part.has_pit and len(parts) > 1 else 0 for part in parts]
    sizes = [(part.size[0], part.size[1] + 2 * more) for part, more in zip(parts, air, strict=True)]
    places = list(shelved(sizes, APART if net.folds else 0))
    scene.rows = sorted({float(down) for _, down in places}) if net.folds else []
    for part, (right, down), more in zip(parts, places, air, strict=True):
        for strand, course in part.place(scene, right - part.west, down + more):
            if strand.half:
                halves[id(strand)] = strand, course
            else:
                put_chain(scene, layout, rooms, [(strand, course)])
    for cut in net.folds:
        put_chain(scene, layout, rooms, [halves[id(net.strands[index])] for index in (cut.first, cut.second)])
    known: dict[Shape, list[BrokenRail]] = {}
    for name, cell in list(scene.cells.items()):
        scene.works[name] = work = _work(layout.pieces[name], cell, known)
        scene.cells[name] = work.cell
    return scene


def _work(piece: Piece, cell: Cell, known: dict[Shape, list[BrokenRail]]) -> Metalwork | PitWork:
    """The metal of a piece in its cell; that of before where it lies as it did."""
    if piece.template.bridge:
        return PitWork(piece, cell)
    key = id(piece.template), cell.at, tuple(cell.ends.items()), cell.upright
    work = WORKS.get(key)
    if work is None or work.piece.template is not piece.template:
        return WORKS.put(key, Metalwork(piece, cell, known))
    work = copy(work)
    work.piece = piece
    return work


def laid(layout: Layout, rooms: dict[str, float]) -> tuple[Net, list[LaidPart]]:
    """The net, and its parts in the order of their rows: those that would be too wide are folded."""
    many = _many(layout)
    net = prepared(layout, many)
    parts = _parts(net, rooms)
    flat = {
        part.nodes[0]: rows for part in parts if part.nodes[0] not in net.rows and (rows := _rows_of(part.size)) > 1
    }
    if flat:
        net = prepared(layout, many | flat)
        parts = _parts(net, rooms)
    return net, parts


def _parts(net: Net, rooms: dict[str, float]) -> list[LaidPart]:
    found = [LaidPart(net, rooms, nodes, strands) for nodes, strands in net.components()]
    return sorted(found, key=lambda part: net.rows.get(part.nodes[0], (part.nodes[0], 0)))


def _rows_of(size: tuple[int, int]) -> int:
    """Into how many rows a part is folded that takes so much room."""
    width, height = size
    if width < LONG or width <= FLATTEST * (height + 2 * LANE):
        return 1
    return ceil(sqrt(width / (BROAD * (height + 2 * LANE))))


def _many(layout: Layout) -> dict[int, int]:
    """Into how many rows parts of many nodes are folded, by a node of each. What must cross in them is not
    known yet: it is worked out within the rows."""
    net = skeleton(layout)
    if len(net.nodes) <= MANY:
        return {}
    face(net, layout)
    join_ladders(net, layout)
    join_crossovers(net)
    return {nodes[0]: ceil(len(nodes) / ROW) for nodes, _ in net.components() if len(nodes) > MANY}


def prepared(layout: Layout, rows: Mapping[int, int] | None = None) -> Net:
    """The net of a layout, with each dart pair running from west to east. `rows` says into how many rows a part is
    folded, by some node of it."""
    net = skeleton(layout)
    face(net, layout)
    if rows:
        fold(net, layout, rows)
    bridge(net)
    turned: dict[int, int] = {}
    for _, strands in net.components():
        cost = {dart: _cost(net, layout, net.strands[index]) for index in strands for dart in darts_of(net, [index])}
        turned |= turns(net, Faces(net, list(cost)), cost.__getitem__)
    raise_apexes(net, turned)
    cap(net, turned)
    join_ladders(net, layout)
    join_crossovers(net)
    return net


def _cost(net: Net, layout: Layout, strand: Strand) -> int:
    """What it costs to double back on a strand: least on long track that is straight with no piece."""
    straight = sum(is_straight(net, dart) for dart in (strand.darts[0], strand.darts[-1] ^ 1))
    return 1000 if not strand.chain else 40 + 4 * straight - min(int(4 * length(layout, strand)), 30)
