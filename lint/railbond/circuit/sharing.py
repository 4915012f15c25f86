"""Which frogs of a piece can share one feed: those that never want opposite polarities at one time."""

from __future__ import annotations

from itertools import combinations
from typing import NamedTuple

from railbond.layout.model import Piece
from railbond.layout.template import Frog

from .graph import Setting
from .proof import Proof
from .questions import opposed
from .wiring import Wiring


class Apart(NamedTuple):
    """Two frogs, by their numbers in the template, that want opposite polarities in a setting; and there the rails
    whose polarities they are, as conductors."""

    one: int
    other: int
    setting: Setting
    rails: tuple[int, int]


def apart(wiring: Wiring, proof: Proof, piece: Piece) -> list[Apart]:
    """Every pair of a piece's frogs that cannot share a feed, in its least setting."""
    pairs = combinations(enumerate(piece.template.frogs), 2)
    found = (_apart(wiring, proof, piece, *pair) for pair in pairs)
    return [one for one in found if one is not None]


def _apart(wiring: Wiring, proof: Proof, piece: Piece, one: tuple[int, Frog], other: tuple[int, Frog]) -> Apart | None:
    for position in piece.template.positions:
        if position in one[1].wants and position in other[1].wants:
            here, there = (wiring.metal(piece.name, frog.wants[position]) for _, frog in (one, other))
            setting = opposed(proof, here, there, wiring.needs(piece.name, (position,)))
            if setting is not None:
                return Apart(one[0], other[0], setting, (here, there))
    return None


def shared(pairs: list[Apart], frogs: list[int]) -> list[list[int]]:
    """The frogs in groups that can share a feed each: a piece has so few frogs that taking each to the first group that
    suits it gives the fewest."""
    parted = {frozenset((one.one, one.other)) for one in pairs}
    groups: list[list[int]] = []
    for frog in frogs:
        fit = (group for group in groups if not any(frozenset((frog, one)) in parted for one in group))
        group = next(fit, None)
        if group is None:
            groups.append([frog])
        else:
            group.append(frog)
    return groups
