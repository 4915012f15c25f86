"""How long a piece of trackwork is, and where along it each rail's metals begin and end.

A plan gives the length of a segment; of a turnout it gives the number of the frog, and perhaps the length that is
`dead`. The rest is estimated here from the number n, the gauge G, the flangeway F and the width h of a rail's head:

    points |<--------------- lead 2·G·n --------------->|<--- heel --->| frog end
                                           |< F·n >|< (2·h + c)·n >|
                                           throat  point     heads clear

- The lead is that of a circular curve from the points to the point of the frog (derived; real ones are shorter).
- The closure rails can come as near as the throat, where they are a flangeway apart, and the frog rails begin where
  their heads stand c = 0.02 in apart: between them a wheel has the frog alone (derived; c is an estimate).
- A frog with its frog rails is 0.76·G·n long, as an HO number 6 is of about 75 mm (common practice).
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from itertools import pairwise, product
from typing import NamedTuple

from railbond.layout.model import Piece
from railbond.layout.template import Template
from trackplan.statements import Segment

from . import micrometres
from .intervals import Interval
from .standards import MICROMETRES_PER_INCH, railhead, standard

ASSUMED_NUMBER = 6.0
HEAD_CLEARANCE = 0.02
UNIT_PER_GAUGE = 0.76
BLADE_SHARE = 0.1
"""How much of its lead a turnout's stock rail runs alone, before a blade lies against it: an estimate."""


class Stretch(NamedTuple):
    """One rail of a leg between two places, in micrometres from where the leg begins.

    `metal` is that of the template; None is a plastic frog.
    """

    start: int
    stop: int
    metal: int | None


Rail = tuple[Stretch, ...]


class Leg(NamedTuple):
    """One way over a piece, from end to end, with the points in `position`; `left` and `right` are its rails as seen
    that way."""

    piece: str
    enter: str
    leave: str
    position: str | None
    length: int
    left: Rail
    right: Rail

    def turned(self) -> Leg:
        """The same way run backwards."""
        left, right = (_mirrored(rail, self.length) for rail in (self.right, self.left))
        return self._replace(enter=self.leave, leave=self.enter, left=left, right=right)


class Size(NamedTuple):
    """A frog's dimensions in micrometres, see above; `throat` and `clear` are the dead lengths before and behind its
    point. `told` says that the plan gives the dead length."""

    number: float
    gauge: int
    throat: int
    clear: int
    told: bool

    @property
    def dead(self) -> int:
        return self.throat + self.clear

    @property
    def lead(self) -> int:
        return round(2 * self.gauge * self.number)

    @property
    def heel(self) -> int:
        return max(round(UNIT_PER_GAUGE * self.gauge * self.number) - self.throat, self.clear)

    @property
    def frog(self) -> Interval:
        """The dead length, from the point of the frog."""
        return Interval(-self.throat, self.clear)


def size_of(piece: Piece, scale: str | None, rail_code: float) -> Size:
    """The dimensions of a piece's frogs, as far as the plan gives them and estimated otherwise."""
    track = standard(scale)
    number = float(getattr(piece.statement, "number", None) or ASSUMED_NUMBER)
    inch = MICROMETRES_PER_INCH * number
    throat = track.flangeway * inch
    clear = (2 * railhead(rail_code) + HEAD_CLEARANCE) * inch
    told = getattr(piece.statement, "dead", None)
    ratio = micrometres(told) / (throat + clear) if told else 1.0
    dead = round((throat + clear) * ratio)
    before = round(throat * ratio)
    return Size(number, round(track.gauge * MICROMETRES_PER_INCH), before, dead - before, told is not None)


def legs_of(piece: Piece, size: Size) -> list[Leg]:
    """Every way over a piece, in both directions."""
    template = piece.template
    found: list[Leg] = []
    for (enter, one), (leave, other) in product(template.ends.items(), repeat=2):
        if (one.leaves, enter) >= (other.leaves, leave):
            continue
        for position in template.positions or (None,):
            if all(not end.routes or position in end.routes for end in (one, other)):
                chains = (
                    _chain(template, one.right, other.left, position),
                    _chain(template, one.left, other.right, position),
                )
                found += _laid(piece, size, (enter, leave), position, chains)
    return [*found, *(leg.turned() for leg in found)]


def _laid(
    piece: Piece, size: Size, ends: tuple[str, str], position: str | None, chains: tuple[list[int], list[int]]
) -> Iterator[Leg]:
    """The leg whose rails are these metals, in the looking direction; none where a rail does not lead through."""
    if not all(chains):
        return
    if isinstance(piece.statement, Segment):
        rails = [tuple(_stretch(piece.template, metal) for metal in chain) for chain in chains]
        yield Leg(piece.name, *ends, position, micrometres(piece.statement.length), rails[0], rails[1])
        return
    crossed = [_crossings(piece, chain) for chain in chains]
    length, places = frog_places(size, max(map(len, crossed)))
    rails = [_spread(chain, cut, length, places, size) for chain, cut in zip(chains, crossed, strict=True)]
    yield Leg(piece.name, *ends, position, length, rails[0], rails[1])


def frog_places(size: Size, frogs: int) -> tuple[int, list[int]]:
    """A piece's length, and where the points of the frogs along one of its rails lie.

    One frog is a turnout's. More are a crossing's or a slip's, whose frogs lie G·n apart along a rail.
    """
    if frogs <= 1:
        return size.lead + size.heel, [size.lead]
    apart = round(size.gauge * size.number)
    return 2 * size.heel + (frogs - 1) * apart, [size.heel + place * apart for place in range(frogs)]


def _chain(template: Template, start: int, goal: int, position: str | None) -> list[int]:
    """The metals that a wheel rolls over from one end's rail to another's; nothing where it cannot."""
    before: dict[int, int | None] = {start: None}
    queue = [start]
    for here in queue:
        if here == goal:
            return _trace(before, here)
        for one, other, route in template.passes:
            if route is None or route == position:
                there = other if one == here else one if other == here else None
                if there is not None and there not in before:
                    before[there] = here
                    queue.append(there)
    return []


def _trace(before: Mapping[int, int | None], goal: int) -> list[int]:
    found: list[int] = []
    here: int | None = goal
    while here is not None:
        found.append(here)
        here = before[here]
    return found[::-1]


def _crossings(piece: Piece, chain: list[int]) -> list[tuple[int, int | None]]:
    """The frogs of a rail: each by how many of its metals come before it, and its own metal (None: plastic)."""
    template = piece.template
    found: list[tuple[int, int | None]] = [
        (place, metal) for place, metal in enumerate(chain) if template.metals[metal].frog
    ]
    if getattr(piece.statement, "build", None) == "dead-frog":
        touching = {frozenset((tie.one, tie.other)) for tie in template.ties if tie.kind == "touch"}
        joints = enumerate(pairwise(chain), start=1)
        found += [(place, None) for place, pair in joints if frozenset(pair) not in touching]
    return sorted(found, key=lambda one: one[0])


def _spread(chain: list[int], frogs: list[tuple[int, int | None]], length: int, places: list[int], size: Size) -> Rail:
    """A rail's metals laid along the piece: each frog at its place, the others before, between and behind."""
    rail: list[Stretch] = []
    done = here = 0
    for (place, metal), point in zip(frogs, places[-len(frogs) :] if frogs else (), strict=True):
        start, stop = max(point + size.frog.start, here), min(point + size.frog.stop, length)
        rail += _shared(chain[done:place], here, start, size)
        rail.append(Stretch(start, stop, metal))
        done, here = place + (metal is not None), stop
    return (*rail, *_shared(chain[done:], here, length, size))


def _shared(metals: list[int], start: int, stop: int, size: Size) -> Iterator[Stretch]:
    """Metals that follow each other with no frog between: all but the last are short, as a stock rail is that runs
    alone before a blade lies against it."""
    for metal in metals[:-1]:
        end = min(start + round(BLADE_SHARE * size.lead), stop)
        yield Stretch(start, end, metal)
        start = end
    if metals:
        yield Stretch(start, stop, metals[-1])


def _stretch(template: Template, metal: int) -> Stretch:
    extent = template.metals[metal]
    return Stretch(micrometres(extent.start), micrometres(extent.stop), metal)


def _mirrored(rail: Rail, length: int) -> Rail:
    return tuple(Stretch(length - one.stop, length - one.start, one.metal) for one in reversed(rail))
