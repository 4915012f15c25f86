"""How often track doubles back on its way, so that the picture closes: a flow of turns from face to face.

Going round a face with it on the left one turns once round to the left: two half turns (round the outside, two to
the right). Every corner of a node is a half turn to the left (between two darts of one side), none (from one side to
the other) or a half turn to the right (round the back of a node that has only one side); what is left over, the strands
must make up for. A strand that turns left for one of its faces turns right for the other, so turns flow through
strands, and the fewest are a flow of least cost (after R. Tamassia, 1987, from memory).
"""

from __future__ import annotations

from collections.abc import Callable

from .flow import Flow
from .net import Net, Node
from .surface import Faces

OUTSIDES_TRIED = 8
MANY = 400
"""Of more faces than these only two are tried as the outside."""


def turns(net: Net, faces: Faces, cost: Callable[[int], int]) -> dict[int, int]:
    """Half turns to the left along each even dart, the fewest by `cost`, which gives that of one."""
    found = (_flow(net, faces, outside, cost) for outside in _outsides(net, faces))
    return min(found, key=lambda one: one[0])[1]


def _outsides(net: Net, faces: Faces) -> list[int]:
    """The faces that may be the outside: those with most ends of track, then the longest."""

    def open_ends(face: int) -> int:
        return sum(net.nodes[net.at[dart]].kind in ("stop", "edge", "loose", "room") for dart in faces.around[face])

    order = sorted(range(len(faces.around)), key=lambda one: (-open_ends(one), -len(faces.around[one])))
    return order[: OUTSIDES_TRIED if len(order) < MANY else 2]


def corner(node: Node, arriving: int, leaving: int) -> int:
    """Half turns to the left from the dart by which one came (as it leaves) to the next one clockwise."""
    if (arriving in node.east) != (leaving in node.east):
        return 0
    side = node.east[::-1] if arriving in node.east else node.west
    return 1 if side.index(leaving) == side.index(arriving) + 1 else -1


def _flow(net: Net, faces: Faces, outside: int, cost: Callable[[int], int]) -> tuple[int, dict[int, int]]:
    base = {dart: int(net.goes_east(dart) == net.goes_east(dart ^ 1)) for dart in faces.left if not dart % 2}
    flow = Flow(len(faces.around))
    excess = [
        -_wanted(net, faces, around, base, 2 if face != outside else -2) // 2
        for face, around in enumerate(faces.around)
    ]
    for dart, odd in base.items():
        right, left = faces.left[dart ^ 1], faces.left[dart]
        if right != left:
            flow.arc(right, left, 2 * cost(dart), (dart, 1))
            flow.arc(left, right, 2 * cost(dart), (dart, -1))
        if right != left and odd:
            flow.arc(left, right, 0, (dart, -1), 1)
    total, ran = flow.run(excess)
    result = dict(base)
    for (dart, add), amount in ran:
        result[dart] += 2 * add * amount
    return total, result


def _wanted(net: Net, faces: Faces, around: list[int], base: dict[int, int], whole: int) -> int:
    """Half turns to the left that the strands around a face still have to make."""
    made = 0
    for dart in around:
        made += base[dart] if dart in base else -base[dart ^ 1]
        leaving = faces.after[dart]
        made += corner(net.nodes[net.at[leaving]], dart ^ 1, leaving)
    return whole - made
