"""What one line lacks that its like have, and what two lines tell of one place."""

from __future__ import annotations

from railbond.layout.model import Piece
from trackplan.statements import ClosureBond, Feeder

from .by_kind import of_kind
from .facts import Facts

BONDED = "dead-frog"
"""The build whose bonds are a choice: people bond all such turnouts of a plan, or none."""


def unbonded(facts: Facts) -> Piece | None:
    """The one turnout of plastic frogs without a bond in a plan that has bonds; but for one with metal that only its
    blades feed, of which that is told."""
    pieces = [one for one in facts.layout.pieces.values() if one.template.shape.build and one.template.has_points]
    bare = [one for one in pieces if one.template.shape.build == BONDED and not is_bonded(one)]
    if len(bare) != 1 or not any(map(is_bonded, pieces)):
        return None
    (piece,) = bare
    first = facts.wiring.first[piece.name]
    metals = range(first, first + len(piece.template.metals))
    return None if any(metal in metals for metal in facts.untouched.dead(facts.graph.rails)) else piece


def is_bonded(piece: Piece) -> bool:
    """Whether its closure rails are told to be bonded."""
    return any(isinstance(one, ClosureBond) for one in piece.work)


def needs_none(piece: Piece) -> bool:
    """Whether its closure rails are one with the stock rails as it is sold."""
    return piece.template.shape.build == "isolated-frog"


def soldered_twice(facts: Facts) -> list[tuple[Feeder, Feeder]]:
    """Pairs of lines, the earlier first, that solder to the same rails at one place that both tell; through contacts of
    other points, or in another position, it is another wire."""
    first: dict[tuple[object, ...], Feeder] = {}
    found = []
    for one in of_kind(facts, Feeder):
        if one.place is not None:
            contacts = tuple(map(str, one.contacts or ()))
            known = first.setdefault((one.at.path, str(one.rail), float(one.place), contacts), one)
            if known is not one:
                found.append((known, one))
    return found
