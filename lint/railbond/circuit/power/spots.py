"""The worst place of every piece of track: where a short between its rails meets the most resistance."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from functools import lru_cache

from railbond.circuit.graph import Setting, agree
from railbond.layout.model import Piece
from railbond.layout.template import Template
from trackplan.record import NamedTuple, new

from .field import Frame, Reach, Sources
from .islands import Islands
from .network import Network, Rail, is_long
from .quadratic import highest, resistance


class Side(NamedTuple):
    """One rail at a spot: its conductor, the stretch of it between two nodes, and how that sees its supply."""

    conductor: int
    rail: Rail
    reach: Reach


class Spot(NamedTuple):
    """A place on a piece and the resistance of the whole loop there, from one leg of the supply back to the other.

    `meters` are from a segment's start; on another piece, from its middle toward `end`.
    """

    ohms: float
    piece: str
    end: str
    meters: float
    setting: Setting
    supply: str
    sides: tuple[Side, Side]


class Pair(NamedTuple):
    """Two rails of a piece, opposite each other from `start` to `stop`, by their conductors."""

    one: tuple[int, Rail]
    other: tuple[int, Rail]
    start: float
    stop: float
    end: str = ""


_Found = tuple[float, float, Pair, Setting, Reach, Reach]
"""The ohms of a spot, and where it is between the places where its rails begin to lie opposite each other."""


def spots(frame: Frame, islands: Islands, pieces: Iterable[Piece]) -> Iterator[Spot]:
    """The worst spot of each of these pieces for each supply that feeds both rails there, in the worst setting."""
    for piece in pieces:
        worst: dict[str, _Found] = {}
        for pair in _pairs(frame.network, piece):
            _try(frame, islands, pair, worst)
        for supply, (ohms, x, pair, setting, *reaches) in worst.items():
            sides = new(Side, (*pair.one, reaches[0])), new(Side, (*pair.other, reaches[1]))
            yield new(Spot, (ohms, piece.name, pair.end, pair.start + x, setting, supply, sides))


def _try(frame: Frame, islands: Islands, pair: Pair, worst: dict[str, _Found]) -> None:
    """Takes up the worst spot of a pair of rails, in each setting in which one supply feeds both, leg by leg."""
    (here, one), (there, other), start, stop, _ = pair
    others = _reaches(frame, islands, there, other)
    for reach in _reaches(frame, islands, here, one) if others else ():
        for beside in others:
            supply = _both_legs(reach.sources, beside.sources)
            if supply is not None and agree(setting := reach.setting | beside.setting):
                ohms, x = highest(resistance(one, reach, start), resistance(other, beside, start), stop - start)
                if supply not in worst or ohms > worst[supply][0]:
                    worst[supply] = ohms, x, pair, setting, reach, beside


@lru_cache(4096)
def _both_legs(one: Sources, other: Sources) -> str | None:
    """The supply that has its one leg here and its other there."""
    opposite = {(there.supply, 1 - there.leg) for there in other}
    return min((here.supply for here in one if (here.supply, here.leg) in opposite), default=None)


def _reaches(frame: Frame, islands: Islands, conductor: int, rail: Rail) -> Sequence[Reach]:
    """What the frame feeds no island does, and the other way round."""
    return islands.reaches(conductor, rail) if islands.floats(rail.one) else frame.reaches(rail)


def _pairs(network: Network, piece: Piece) -> Iterator[Pair]:
    template, first, arms = piece.template, network.wiring.first[piece.name], network.arms
    if any(map(is_long, template.metals)):
        yield from _along(network, piece)
    for name, end in template.ends.items():
        here, there = first + end.left, first + end.right
        one, other = arms.get((here, name)), arms.get((there, name))
        if one and other:
            yield new(Pair, ((here, one), (there, other), 0.0, one.stop, name))
    for metals, words in _opposite(template):
        left, right = (_point(network, first + metal) for metal in metals)
        yield new(Pair, (left, right, 0.0, 0.0, words))


def _opposite(template: Template) -> Iterator[tuple[tuple[int, int], str]]:
    """Metals that a short may join anywhere: a metal frog and each stock rail that it may be bridged to, and the rails
    of a bridge."""
    for frog in template.frogs:
        for stock in dict.fromkeys(frog.wants.values()):
            yield (frog.metal, stock), "frog"
    if template.bridge:
        yield template.bridge, "bridge"


def _along(network: Network, piece: Piece) -> Iterator[Pair]:
    """The two rails of a segment, from each place where something is joined to either of them to the next."""
    rails: dict[str, list[tuple[int, Rail]]] = {}
    for conductor, metal in enumerate(piece.template.metals, network.wiring.first[piece.name]):
        rails.setdefault(metal.words, []).extend((conductor, rail) for rail in network.rails[conductor])
    if len(rails) != 2:
        return
    left, right = (sorted(found, key=lambda one: one[1].start) for found in rails.values())
    here = there = 0
    while here < len(left) and there < len(right):
        one, other = left[here], right[there]
        start, stop = max(one[1].start, other[1].start), min(one[1].stop, other[1].stop)
        yield new(Pair, (one, other, start, stop, ""))
        here, there = here + (one[1].stop <= stop), there + (other[1].stop <= stop)


def _point(network: Network, conductor: int) -> tuple[int, Rail]:
    node = network.middle(conductor)
    return conductor, new(Rail, (node, node, 0.0, 0.0, 0.0))
