"""The worst place of every piece of track: where a short between its rails meets the most resistance."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from functools import lru_cache

from railbond.circuit.graph import Setting, agree
from railbond.layout.model import Piece
from trackplan.record import NamedTuple

from .field import Frame, Reach, Sources
from .islands import Islands
from .network import Network, Rail, is_long
from .quadratic import resistance


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


def spots(frame: Frame, islands: Islands, pieces: Iterable[Piece]) -> Iterator[Spot]:
    """The worst spot of each of these pieces for each supply that feeds both rails there, in the worst setting."""
    for piece in pieces:
        worst: dict[str, Spot] = {}
        for pair in _pairs(frame.network, piece):
            _try(frame, islands, piece.name, pair, worst)
        yield from worst.values()


def _try(frame: Frame, islands: Islands, piece: str, pair: Pair, worst: dict[str, Spot]) -> None:
    """Takes up the worst spot of a pair of rails, in each setting in which one supply feeds both, leg by leg."""
    (here, one), (there, other) = pair.one, pair.other
    others = list(_reaches(frame, islands, there, other))
    for reach in _reaches(frame, islands, here, one):
        for beside in others:
            setting = reach.setting | beside.setting
            supply = _both_legs(reach.sources, beside.sources)
            if supply is not None and agree(setting):
                sum_ = resistance(one, reach, pair.start).plus(resistance(other, beside, pair.start))
                x = sum_.highest(pair.stop - pair.start)
                ohms = sum_.at(x)
                if supply not in worst or ohms > worst[supply].ohms:
                    sides = Side(here, one, reach), Side(there, other, beside)
                    worst[supply] = Spot(ohms, piece, pair.end, pair.start + x, setting, supply, sides)


@lru_cache(4096)
def _both_legs(one: Sources, other: Sources) -> str | None:
    """The supply that has its one leg here and its other there."""
    opposite = {(there.supply, 1 - there.leg) for there in other}
    return min((here.supply for here in one if (here.supply, here.leg) in opposite), default=None)


def _reaches(frame: Frame, islands: Islands, conductor: int, rail: Rail) -> Iterator[Reach]:
    """What the frame feeds no island does, and the other way round."""
    return islands.reaches(conductor, rail) if islands.floats(rail.one) else frame.reaches(rail)


def _pairs(network: Network, piece: Piece) -> Iterator[Pair]:
    if any(map(is_long, piece.template.metals)):
        yield from _along(network, piece)
    for name, end in piece.template.ends.items():
        left, right = (network.wiring.metal(piece.name, metal) for metal in (end.left, end.right))
        if (left, name) in network.arms and (right, name) in network.arms:
            arms = network.arms[left, name], network.arms[right, name]
            yield Pair((left, arms[0]), (right, arms[1]), 0.0, arms[0].stop, name)
    yield from _frogs(network, piece)
    if bridge := piece.template.bridge:
        left, right = (network.wiring.metal(piece.name, metal) for metal in bridge)
        yield Pair((left, _point(network, left)), (right, _point(network, right)), 0.0, 0.0, "bridge")


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
        yield Pair(one, other, start, stop)
        here, there = here + (one[1].stop <= stop), there + (other[1].stop <= stop)


def _frogs(network: Network, piece: Piece) -> Iterator[Pair]:
    """A metal frog opposite each stock rail that it may be bridged to."""
    for frog in piece.template.frogs:
        metal = network.wiring.metal(piece.name, frog.metal)
        for stock in dict.fromkeys(frog.wants.values()):
            opposite = network.wiring.metal(piece.name, stock)
            yield Pair((metal, _point(network, metal)), (opposite, _point(network, opposite)), 0.0, 0.0, "frog")


def _point(network: Network, conductor: int) -> Rail:
    node = network.middle(conductor)
    return Rail(node, node, 0.0, 0.0, 0.0)
