"""Where two tracks must cross in the picture though they do not meet: one goes over the other.

The turnouts' hands say in which order tracks leave them. Where that order can be drawn on a plane, this finds
no crossing: a tree always can be drawn, and of a plan that can be drawn every further strand lies within one face.
"""

from __future__ import annotations

from heapq import heappop, heappush

from .net import Net, Node
from .surface import Faces, darts_of


def bridge(net: Net) -> None:
    """Puts a `bridge` node wherever strands must cross, as few as it finds when it lays them one by one."""
    for nodes, strands in net.components():
        darts = darts_of(net, strands)
        if len(nodes) - len(strands) + len(Faces(net, darts).around) != 2:
            _lay(net, strands)


def _lay(net: Net, strands: list[int]) -> None:
    laid: list[int] = []
    reached: dict[int, int] = {}
    later = []
    for index in sorted(strands, key=lambda index: len(net.strands[index].chain)):
        one, other = (root(reached, net.at[dart]) for dart in _ends(net, index))
        if one == other:
            later.append(index)
        else:
            reached[one] = other
            laid.append(index)
    for index in later:
        if laid:  # else it goes from a lone node to itself, and is the first that is laid
            _cross(net, index, laid)
        laid.append(index)


def root(above: dict[int, int], node: int) -> int:
    """The node that stands for another; `above` leads to it."""
    while node in above:
        node = above[node]
    return node


def _ends(net: Net, index: int) -> tuple[int, int]:
    """The darts by which a strand leaves its two nodes."""
    darts = net.strands[index].darts
    return darts[0], darts[-1] ^ 1


def _cross(net: Net, index: int, laid: list[int]) -> None:
    """Lays a strand across those that are in its way."""
    faces = Faces(net, darts_of(net, laid))
    start, goal = (faces.left[_clockwise(net, dart, faces.left)] for dart in _ends(net, index))
    owner = {dart: one for one in laid for dart in darts_of(net, [one])}
    for crossed in _way(net, faces, owner, start, goal):
        _put(net, index, crossed, owner[crossed])


def _clockwise(net: Net, dart: int, present: dict[int, int]) -> int:
    """The next dart clockwise that is laid: on its left is the corner in which `dart` begins."""
    ring = net.nodes[net.at[dart]].around
    place = ring.index(dart)
    return next(one for one in ring[:place][::-1] + ring[place:][::-1] if one in present)


def _way(net: Net, faces: Faces, owner: dict[int, int], start: int, goal: int) -> list[int]:
    """The darts to cross from their left to their right, as few as there are, and no bare joint if it can be."""
    queue: list[tuple[int, int, list[int]]] = [(0, start, [])]
    done = set()
    while queue:
        cost, face, way = heappop(queue)
        if face == goal:
            return way
        if face not in done:
            done.add(face)
            for dart in faces.around[face]:
                more = 1 if net.strands[owner[dart]].chain else 5
                heappush(queue, (cost + more, faces.left[dart ^ 1], [*way, dart]))
    raise ValueError("the faces of one part do not hang together")


def _put(net: Net, index: int, crossed: int, owner: int) -> None:
    """A bridge where the strand crosses a dart from its left to its right."""
    over_east, new_east = _heads_east(net, owner, crossed), net.goes_east(net.strands[index].darts[0])
    at = net.add(Node("bridge", ""))
    on = split(net, owner, crossed, at)
    new = net.strands[index].darts[-1]
    beyond = split(net, index, new, at)
    node = net.nodes[at]
    if over_east == new_east:
        node.west, node.east = [crossed ^ 1, new ^ 1], [beyond, on]
    else:
        node.west, node.east = [beyond, crossed ^ 1], [on, new ^ 1]
    node.straight = [(crossed ^ 1, on)]
    if not over_east:
        node.turn()


def _heads_east(net: Net, owner: int, dart: int) -> bool:
    """Whether a train that follows a dart set out to the east."""
    darts = net.strands[owner].darts
    return net.goes_east(darts[0] if dart in darts else darts[-1] ^ 1)


def split(net: Net, owner: int, dart: int, at: int) -> int:
    """Parts a dart of a strand in two at a new node; gives the dart that goes on from there."""
    far = net.at[dart ^ 1]
    on = net.pair(at, far)
    node = net.nodes[far]
    for side in (node.west, node.east):
        side[:] = [on ^ 1 if one == dart ^ 1 else one for one in side]
    node.straight = [
        tuple(on ^ 1 if one == dart ^ 1 else one for one in pair)  # type: ignore[misc]
        for pair in node.straight
    ]
    if dart ^ 1 in net.piece:
        net.piece[on ^ 1] = net.piece.pop(dart ^ 1)
    net.at[dart ^ 1] = at
    darts = net.strands[owner].darts
    place = darts.index(dart) + 1 if dart in darts else darts.index(dart ^ 1)
    darts.insert(place, on if dart in darts else on ^ 1)
    return on
