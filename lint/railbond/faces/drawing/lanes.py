"""Which lane each dart pair runs in, so that no two lines meet that do not, and straight track stays in one lane.

The net's darts all lead from west to east by now. It is made a net with one western and one eastern end by leads that
are not drawn; then every two lines lie either one behind the other or one above the other, and a lane's number is the
longest way to it from below, face by face (after R. Tamassia and I. G. Tollis, 1986, and constrained visibility
representations, G. Di Battista and others, 1992; both from memory).
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import NamedTuple

from .net import Net, Node
from .rises import numbered_lines, rises_of
from .settling import settle
from .surface import Faces
from .turns import corner


class Lanes(NamedTuple):
    """The lane of each dart pair by its eastern-going dart, from 0 at the bottom, and the nodes from west to
    east."""

    of: dict[int, int]
    order: list[int]


class FaceCorner(NamedTuple):
    """Between the dart by which one came to a node and the next one clockwise. `wide` goes round its back."""

    node: int
    came: int
    leaving: int
    wide: bool
    ends: bool


def saturate(net: Net, faces: Faces) -> list[int]:
    """Adds a lead from the back of every node that has one side only; gives the first dart of each, last that of
    the one over the top.

    Raises ValueError where the faces do not close, which no net of turned track gives.
    """
    leads: list[int] = []
    outside: list[FaceCorner] = []
    for around in faces.around:
        corners = _corners(net, faces, around)
        outer = sum(1 if one.wide else -1 for one in corners) > 0
        _reduce(net, corners, leads)
        if outer:
            outside = corners
        elif any(one.wide for one in corners):
            raise ValueError("a face does not close")
    return leads + _frame(net, outside)


def _corners(net: Net, faces: Faces, around: list[int]) -> list[FaceCorner]:
    """The corners of a face whose two darts leave on one side."""
    found = []
    for dart in around:
        leaving = faces.after[dart]
        node = net.nodes[net.at[leaving]]
        turn = corner(node, dart ^ 1, leaving)
        if turn:
            found.append(FaceCorner(net.at[leaving], dart ^ 1, leaving, turn < 0, leaving in node.west))
    return found


def _reduce(net: Net, corners: list[FaceCorner], leads: list[int]) -> None:
    """While a wide corner is followed by two narrow ones, leads from it to the second of them."""
    place = idle = 0
    while len(corners) > 2 and idle <= len(corners):
        place %= len(corners)
        one, two, three = (corners[(place + step) % len(corners)] for step in range(3))
        if one.wide and not two.wide and not three.wide:
            lead = _lead(net, one, three)
            leads.append(lead)
            corners[(place + 2) % len(corners)] = three._replace(came=lead ^ 1)
            gone = {place, (place + 1) % len(corners)}
            corners[:] = [each for number, each in enumerate(corners) if number not in gone]
            place, idle = max(place - 3, 0), 0
        else:
            place, idle = place + 1, idle + 1


def _lead(net: Net, wide: FaceCorner, narrow: FaceCorner) -> int:
    """A pair of darts from the back of one node into the corner of another; gives the one at the back."""
    lead = net.pair(wide.node, narrow.node)
    back, node = net.nodes[wide.node], net.nodes[narrow.node]
    (back.east if wide.ends else back.west).append(lead)
    side = node.west if narrow.ends else node.east
    side.insert(side.index(narrow.came) + (1 if narrow.ends else 0), lead ^ 1)
    return lead


def _frame(net: Net, corners: list[FaceCorner]) -> list[int]:
    """Leads from the outside's wide corners to a western and an eastern end, and one over the top of it all."""
    west, east = net.add(Node("cap", "")), net.add(Node("cap", ""))
    wide = [one for one in corners if one.wide]
    first = next(n for n in range(len(wide)) if wide[n].ends and not wide[n - 1].ends)
    wide = wide[first:] + wide[:first]
    leads = []
    for one in wide:
        end, node = net.nodes[east if one.ends else west], net.nodes[one.node]
        lead = net.pair(one.node, east if one.ends else west)
        (node.east if one.ends else node.west).append(lead)
        end.west.insert(0, lead ^ 1) if one.ends else end.east.append(lead ^ 1)
        leads.append(lead)
    top = net.pair(west, east)
    net.nodes[west].east.append(top)
    net.nodes[east].west.append(top ^ 1)
    return [*leads, top]


def lanes(net: Net, drawn: Iterable[int], wide: Mapping[int, int]) -> Lanes:
    """The lanes of a net that hangs together, whose leads are taken out again, for the darts that are drawn. `wide`
    says how many lanes a crossover's dart has to rise at least."""
    darts = [dart for dart in drawn if dart in net.nodes[net.at[dart]].around]
    count = len(net.nodes)
    leads = saturate(net, Faces(net, darts))
    whole = darts + [dart for lead in leads for dart in (lead, lead ^ 1)]
    lane = _numbered(net, Faces(net, whole), [dart for dart in whole if net.goes_east(dart)], set(darts), wide)
    order = _order(net)
    _take_out(net, leads, count)
    return Lanes(lane, [node for node in order if node < count])


def _numbered(net: Net, faces: Faces, eastward: list[int], drawn: set[int], wide: Mapping[int, int]) -> dict[int, int]:
    """The lane of each drawn dart that goes east."""
    line = numbered_lines(net, eastward)
    top, first = eastward[-1], max(line.values()) + 1
    below = [(first + faces.left[dart ^ 1], line[dart], 0) for dart in eastward]
    above = [(line[dart], first + faces.left[dart], int(dart in drawn)) for dart in eastward if dart != top]
    rises = rises_of(net, line, wide)
    lane = settle(first + len(faces.around), [*below, *above, *rises], [])
    lowest = min(lane[line[dart]] for dart in eastward if dart in drawn)
    return {dart: lane[line[dart]] - lowest for dart in eastward if dart in drawn}


def _order(net: Net) -> list[int]:
    """The nodes from west to east."""
    waits = [len(node.west) for node in net.nodes]
    order = [node for node, before in enumerate(waits) if not before]
    for node in order:
        for dart in net.nodes[node].east:
            there = net.at[dart ^ 1]
            waits[there] -= 1
            if not waits[there]:
                order.append(there)
    return order


def _take_out(net: Net, leads: list[int], count: int) -> None:
    gone = {dart for lead in leads for dart in (lead, lead ^ 1)}
    del net.nodes[count:]
    for node in net.nodes:
        node.west = [dart for dart in node.west if dart not in gone]
        node.east = [dart for dart in node.east if dart not in gone]
