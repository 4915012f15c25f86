"""Track that lies beside other track under one row of terminals, though it is far to go by rail: a yard's tracks, a
spur or passing track along its line, the stalls round a turntable. A plan has no map, so these are judged by what
such track is for (common practice); how far apart is an estimate."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import pairwise
from math import radians, sin
from typing import NamedTuple

from railbond.circuit.facts import Facts
from railbond.layout.model import Piece

from .track_map import Node, TrackMap, TrackStretch

BESIDE = 0.2
"""Meters of wire from a place on one track to that beside it on the next, slack included."""
FURTHEST = 8.0
"""Meters of track behind a turnout that are looked at."""
MOST_NODES = 150
ALIKE = 0.25
"""How much longer than a line its passing track may be, to lie along it."""
NEXT_STALL = 45.0
"""Degrees between two tracks round a pit that are led to one terminal."""


class _Branch(NamedTuple):
    """The places behind an end of a turnout, each with the meters to it; whether all track there ends in bumpers; and
    the piece in which a single track ends."""

    meters: dict[Node, float]
    is_dead_end: bool
    last: str

    @property
    def depth(self) -> float:
        return max(self.meters.values(), default=0.0)


def ties(facts: Facts, track: TrackMap, places: Iterable[Node]) -> list[TrackStretch]:
    """How far wires run between places on track that lies side by side: what a map of ways needs besides the rails."""
    wanted, found = set(places), list[TrackStretch]()
    for piece in facts.layout.pieces.values():
        if piece.template.headings:
            found += _round_a_pit(track, piece, wanted)
        elif len(piece.template.ends) == 3 and "points" in piece.template.ends:
            found += _behind(track, piece, wanted)
    return found


def _behind(track: TrackMap, piece: Piece, wanted: set[Node]) -> Iterator[TrackStretch]:
    """Between the two tracks behind a turnout, as far as the shorter one goes."""
    one, other = (_branch(track, (piece.name, end)) for end in piece.template.ends if end != "points")
    dead = [branch.depth for branch in (one, other) if branch.is_dead_end]
    if dead or (_is_passing(one, other) and one.last != piece.name):
        depth = min(dead, default=FURTHEST) + BESIDE
        beside = {node: meters for node, meters in other.meters.items() if node in wanted and meters <= depth}
        for node, meters in one.meters.items():
            if node in wanted and meters <= depth and beside:
                near = min(beside, key=lambda there, here=meters: abs(beside[there] - here))  # type: ignore[misc]
                yield TrackStretch(node, near, BESIDE + abs(beside[near] - meters))


def _is_passing(one: _Branch, other: _Branch) -> bool:
    """Whether two tracks come together again."""
    lengths = sorted((one.depth, other.depth))
    return bool(one.last) and one.last == other.last and lengths[1] <= (1 + ALIKE) * lengths[0]


def _branch(track: TrackMap, start: Node) -> _Branch:
    """All track behind an end of a turnout, as far as it is looked at."""
    meters, queue, closed = {start: 0.0}, [start], False
    used, plain, last, single = set[int](), True, "", dict[Node, float]()
    for here in queue:
        for stretch in track.at.get(here, ()):
            there = stretch.beyond(here)
            if id(stretch) in used or (here == start and there[0] == start[0]):
                continue
            used.add(id(stretch))
            is_plain = track.facts.layout.pieces[there[0]].template.is_plain
            if plain and not is_plain:
                plain, last = False, there[0]
                single = dict(meters)
            if there in meters or meters[here] > FURTHEST or len(meters) > MOST_NODES or there[0] == start[0]:
                closed = True
                if last:
                    return _Branch(single, False, last)
                continue
            meters[there] = meters[here] + stretch.length
            queue.append(there)
    edges = {edge.end.piece for edge in track.facts.layout.edges.values() if edge.end}
    if closed or edges & {name for name, _ in meters}:
        return _Branch(single if last else meters, False, last)
    return _Branch(meters, True, last)


def _round_a_pit(track: TrackMap, piece: Piece, wanted: set[Node]) -> Iterator[TrackStretch]:
    """Between neighbors round a turntable: the chord between their places."""
    radius = track.facts.power.materials.half_length(piece)
    stalls = [(angle, way, _branch(track, (piece.name, way)).meters) for way, angle in piece.template.headings.items()]
    for (before, _, here), (after, _, there) in pairwise(sorted(stalls, key=lambda one: one[:2])):
        if after - before <= NEXT_STALL:
            for node, meters in here.items():
                for mate in there if node in wanted else ():
                    if mate in wanted:
                        chord = 2 * (radius + meters) * sin(radians(after - before) / 2)
                        yield TrackStretch(node, mate, max(chord, BESIDE / 2) + abs(there[mate] - meters))
