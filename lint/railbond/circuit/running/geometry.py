"""The ways over a piece of trackwork, and where along them each rail's metals begin and end.

A segment's rails are as long as its plan says. Between the frogs of other trackwork, whose places are those of `frogs`,
the metals that a wheel rolls over follow one another; a stock rail that runs alone before a blade lies against it
is taken for a tenth of the lead (an estimate: where rails are all live, it does not matter where they meet).
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from itertools import pairwise, product

from railbond.layout.model import Piece
from railbond.layout.shape import Place, Size
from railbond.layout.template import Template
from trackplan.record import NamedTuple

from . import micrometers
from .frogs import frog_places

BLADE_SHARE = 0.1
MOST_KEPT = 4096
"""Templates of which the ways are kept."""


class Stretch(NamedTuple):
    """One rail of a leg between two places, in micrometers from where the leg begins.

    `metal` is that of the template; None is a plastic frog.
    """

    start: int
    stop: int
    metal: int | None


Rail = tuple[Stretch, ...]
Chains = tuple[list[int], list[int]]
"""The metals that the left and the right wheels roll over, one after the other."""
Frog = tuple[int, int | None]
"""By how many metals of its rail a frog is preceded, and its own metal; None for a plastic one."""


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


_KNOWN: dict[tuple[int, Size], tuple[Template, list[Leg]]] = {}


def legs_of(piece: Piece, size: Size) -> list[Leg]:
    """Every way over a piece, in both directions. Points that a spring holds are faced for its route only.

    Pieces of one template and size have the same ways, and whoever types asks for them again and again.
    """
    known = _KNOWN.get((id(piece.template), size))
    if known is None or known[0] is not piece.template:
        if len(_KNOWN) >= MOST_KEPT:
            _KNOWN.clear()
        known = _KNOWN[id(piece.template), size] = piece.template, _legs_of(piece, size)
    legs = known[1]
    return list(legs) if not legs or legs[0].piece == piece.name else [leg._replace(piece=piece.name) for leg in legs]


def _legs_of(piece: Piece, size: Size) -> list[Leg]:
    found = [leg for ends in _pairs(piece.template) for leg in _between(piece, size, ends)]
    faced = piece.template.shape.faced
    return [leg for leg in (*found, *(leg.turned() for leg in found)) if faced.get(leg.enter, leg.leave) == leg.leave]


def _pairs(template: Template) -> Iterator[tuple[str, str]]:
    """Each two ends that a train can go between, once, in the looking direction; a table's tracks lie all round it."""
    for (enter, one), (leave, other) in product(template.ends.items(), repeat=2):
        if one.leaves < other.leaves or (template.bridge and enter < leave):
            yield enter, leave


def _between(piece: Piece, size: Size, ends: tuple[str, str]) -> Iterator[Leg]:
    """The ways from one end to the other, one for each position of the points that a train may so pass."""
    one, other = (piece.template.ends[end] for end in ends)
    for position in piece.template.positions or (None,):
        if all(not end.routes or position in end.routes for end in (one, other)):
            left = _chain(piece.template, one.right, other.left, position)
            right = _chain(piece.template, one.left, other.right, position)
            if left and right:
                yield _laid(piece, size, ends, position, (left, right))


def _laid(piece: Piece, size: Size, ends: tuple[str, str], position: str | None, chains: Chains) -> Leg:
    """The leg whose left and right rails are these metals."""
    template = piece.template
    rails: list[Rail] = []
    if template.is_plain:
        length = size.length
        rails = [tuple(_extent(template, metal) for metal in chain) for chain in chains]
    elif template.bridge:
        length = size.length
        rails = [(Stretch(0, length, chain[len(chain) // 2]),) for chain in chains]
    else:
        length = 0
        for side, chain in zip(("left", "right"), chains, strict=True):
            frogs = _frogs(piece, chain)
            length, places = frog_places(piece, size, ends, side, len(frogs))
            rails.append(_spread(chain, frogs, places, length, round(BLADE_SHARE * size.lead)))
    return Leg(piece.name, *ends, position, length, rails[0], rails[1])


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


def _frogs(piece: Piece, chain: list[int]) -> list[Frog]:
    """The frogs of a rail. A plastic one lies where a wheel rolls between two rails that a jumper joins."""
    template = piece.template
    found: list[Frog] = [(place, metal) for place, metal in enumerate(chain) if template.metals[metal].frog]
    if template.shape.build == "dead-frog":
        jumpers = {frozenset((tie.one, tie.other)) for tie in template.ties if tie.kind == "build"}
        pairs = enumerate(pairwise(chain), start=1)
        found += [(place, None) for place, pair in pairs if frozenset(pair) in jumpers]
    return sorted(found, key=lambda one: one[0])


def _spread(chain: list[int], frogs: list[Frog], places: list[Place], length: int, alone: int) -> Rail:
    """A rail's metals laid along the piece: each frog at its place, the others before, between and behind."""
    rail: list[Stretch] = []
    done = here = 0
    for (before, metal), place in zip(frogs, places, strict=True):
        start, stop = max(place[0], here), min(place[1], length)
        rail += _in_a_row(chain[done:before], here, start, alone)
        rail.append(Stretch(start, stop, metal))
        done, here = before + (metal is not None), stop
    return (*rail, *_in_a_row(chain[done:], here, length, alone))


def _in_a_row(metals: list[int], start: int, stop: int, alone: int) -> Iterator[Stretch]:
    """Metals that follow each other with no frog between: all but the last are so long, the last takes the rest."""
    for metal in metals[:-1]:
        end = min(start + alone, stop)
        yield Stretch(start, end, metal)
        start = end
    if metals:
        yield Stretch(start, stop, metals[-1])


def _extent(template: Template, metal: int) -> Stretch:
    extent = template.metals[metal]
    return Stretch(micrometers(extent.start), micrometers(extent.stop), metal)


def _mirrored(rail: Rail, length: int) -> Rail:
    return tuple(Stretch(length - one.stop, length - one.start, one.metal) for one in reversed(rail))
