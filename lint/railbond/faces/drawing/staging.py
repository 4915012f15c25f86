"""From a layout to its scene: the net prepared, and each part that hangs together placed below the one before."""

from __future__ import annotations

from railbond.layout.model import Layout

from .apex import raise_apexes
from .breaks import BrokenRail
from .bridges import bridge
from .caps import cap, join_crossovers
from .facing import face, is_straight, length
from .ladders import join_ladders
from .laid_part import LaidPart
from .metalwork import Metalwork, Shape
from .net import Net, Strand
from .pits import PitWork
from .scene import Scene
from .skeleton import skeleton
from .surface import Faces, darts_of
from .turns import turns


def stage(layout: Layout, rooms: dict[str, float]) -> Scene:
    """Lays out all track. `rooms` is how long each plain piece must at least be drawn."""
    net = prepared(layout)
    scene = Scene()
    for nodes, strands in list(net.components()):
        LaidPart(net, layout, rooms, nodes, strands).place(scene)
    known: dict[Shape, list[BrokenRail]] = {}
    for name, cell in scene.cells.items():
        piece = layout.pieces[name]
        scene.works[name] = PitWork(piece, cell) if piece.template.bridge else Metalwork(piece, cell, known)
    return scene


def prepared(layout: Layout) -> Net:
    """The net of a layout, with each dart pair running from west to east."""
    net = skeleton(layout)
    face(net, layout)
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
