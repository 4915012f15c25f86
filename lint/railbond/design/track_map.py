"""The track as a wirer walks it: ends of pieces and places on plain track, and how far it is from one to the next.

Three maps: of *pairs*, along which both rails are one metal each (no gap, no blade in between); of *ways*, along the
benchwork, gaps or not; and of what runs on along *either* rail, on which a wire may be soldered to turnouts too.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from heapq import heappop, heappush
from itertools import combinations, pairwise
from typing import Literal, NamedTuple

from railbond.circuit.facts import Facts
from railbond.circuit.signed_graph import Part
from railbond.layout.model import Piece
from railbond.layout.template import OTHER_SIDE, Template

Node = tuple[str, str]
"""A piece's end, or within a segment a place: (`west`, `0.9`)."""

MapKind = Literal["pairs", "ways", "either"]
MOST_GAPS = {"pairs": 0, "ways": 2, "either": 1}
"""Cut rails over which track goes on."""

APART = 1e-6
TABLE_SHARE = 0.3
"""Tracks round a pit lie closer to one another under the benchwork than by way of its middle."""


class TrackStretch(NamedTuple):
    """Track from one node to another. On plain track: `piece`, and where on it, in meters from its start; a drop may be
    soldered there."""

    one: Node
    other: Node
    length: float
    piece: str = ""
    start: float = 0.0
    stop: float = 0.0

    def place(self, node: Node, meters: float) -> float:
        """The place on the piece, so far away from one of the two nodes."""
        step = meters if (node == self.one) == (self.start <= self.stop) else -meters
        return (self.start if node == self.one else self.stop) + step

    def beyond(self, node: Node) -> Node:
        return self.other if node == self.one else self.one


class TrackMap:
    """Stretches by the nodes at which they end. `marks` are the places at which plain track is parted: where there is
    a pair of drops already, unless said."""

    def __init__(self, facts: Facts, kind: MapKind, marks: dict[str, list[float]] | None = None) -> None:
        self.facts, self.kind = facts, kind
        self.marks = marks if marks is not None else pairs_on(facts)
        self.at: dict[Node, list[TrackStretch]] = {}
        self.stretches = list(self._stretches())
        self._add(self.stretches)

    def _add(self, stretches: Iterable[TrackStretch]) -> None:
        for stretch in stretches:
            self.at.setdefault(stretch.one, []).append(stretch)
            self.at.setdefault(stretch.other, []).append(stretch)

    def tie(self, stretches: list[TrackStretch]) -> None:
        """Takes in ways that are no track."""
        self.stretches += stretches
        self._add(stretches)

    def _stretches(self) -> Iterator[TrackStretch]:
        for piece in self.facts.layout.pieces.values():
            yield from self._plain(piece) if piece.template.length else self._special(piece)
        for meeting in self.facts.layout.meetings:
            if len(meeting.gaps) <= MOST_GAPS[self.kind]:
                one, other = meeting.one, meeting.other
                yield TrackStretch((one.piece, one.end), (other.piece, other.end), 0.0)

    def _plain(self, piece: Piece) -> Iterator[TrackStretch]:
        """Plain track, from each place at which a pair is soldered to the next; it ends where a rail is cut."""
        length = piece.template.length
        cuts = {link.offset for link in piece.template.links}
        places = sorted({0.0, length, *self.marks.get(piece.name, ()), *cuts})
        nodes = [(piece.name, "start"), *((piece.name, f"{one:g}") for one in places[1:-1]), (piece.name, "finish")]
        for (before, behind), (one, other) in zip(pairwise(places), pairwise(nodes), strict=True):
            first = (one[0], f"{one[1]}+") if before in cuts and self.kind == "pairs" else one
            yield TrackStretch(first, other, behind - before, piece.name, before, behind)

    def _special(self, piece: Piece) -> Iterator[TrackStretch]:
        """A piece without a length of its own in the plan: from end to end, where both rails run through, or one."""
        half = self.facts.power.materials.half_length(piece) * (TABLE_SHARE if piece.template.bridge else 1.0)
        joined, least = one_metal(piece.template), {"pairs": 2, "either": 1, "ways": 0}[self.kind]
        solderable = (piece.name, 0.0, half) if self.kind == "either" else ()
        middles: dict[str, Node] = {}
        for one, other in combinations(piece.template.ends, 2):
            if _running_on(piece.template, joined, one, other) >= least:
                middle = middles.get(one) or middles.get(other) or (piece.name, f"middle {len(middles)}")
                for end in (one, other):
                    if end not in middles:
                        middles[end] = middle
                        yield TrackStretch((piece.name, end), middle, half, *solderable)

    def distances(self, starts: dict[Node, float], most: float = float("inf")) -> dict[Node, float]:
        """Meters from the nearest of some nodes to all that lie within reach."""
        return {node: meters for node, (meters, _) in self.nearest(starts, most).items()}

    def nearest(self, starts: dict[Node, float], most: float = float("inf")) -> dict[Node, tuple[float, Node]]:
        """The same, each with the start that it is nearest to (Dijkstra's algorithm)."""
        heap = [(meters, node, node) for node, meters in starts.items()]
        heap.sort()
        found: dict[Node, tuple[float, Node]] = {}
        while heap:
            meters, node, start = heappop(heap)
            if node not in found and meters <= most:
                found[node] = meters, start
                for stretch in self.at.get(node, ()):
                    if (there := stretch.beyond(node)) not in found:
                        heappush(heap, (meters + stretch.length, there, start))
        return found


def pairs_on(facts: Facts) -> dict[str, list[float]]:
    """The places of each segment at which both rails have a drop that always holds."""
    sides: dict[tuple[str, float], set[str]] = {}
    for drop in facts.layout.drops:
        if drop.place is not None and drop.when is None:
            words = facts.layout.pieces[drop.piece].template.metals[drop.metal].words
            sides.setdefault((drop.piece, drop.place), set()).add(words)
    found: dict[str, list[float]] = {}
    for (name, place), told in sides.items():
        if len(told) == 2:
            found.setdefault(name, []).append(place)
    return found


def node_at(facts: Facts, name: str, place: float) -> Node:
    """The node of a place on a segment at which something is soldered."""
    length = facts.layout.pieces[name].template.length
    return name, "start" if place < APART else "finish" if place > length - APART else f"{place:g}"


def part_at(facts: Facts, name: str, place: float) -> Part:
    """The part of a segment in which a place lies."""
    return name, sum(link.offset <= place for link in facts.layout.pieces[name].template.links)


def one_metal(template: Template) -> list[int]:
    """For each metal of a piece the first one that it is always one with."""
    first = list(range(len(template.metals)))
    for tie in template.ties:
        if tie.when is None:
            low, high = sorted((first[tie.one], first[tie.other]))
            first = [low if one == high else one for one in first]
    return first


def _running_on(template: Template, joined: list[int], one: str, other: str) -> int:
    """How many of the rails at an end are always one metal with those at another, each with its own."""
    here, there = template.ends[one], template.ends[other]
    if joined[here.left] == joined[here.right]:
        return 0
    straight = sum(joined[here.side(side)] == joined[there.side(OTHER_SIDE[side])] for side in ("left", "right"))
    turned = sum(joined[here.side(side)] == joined[there.side(side)] for side in ("left", "right"))
    return max(straight, turned)
