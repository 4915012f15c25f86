"""What one line lacks that its like have, and what two lines tell of one place."""

from __future__ import annotations

from collections.abc import Iterator

from railbond.layout.model import EndAt, Piece
from trackplan.statements import ClosureBond, Feeder

from .by_kind import of_kind
from .facts import Facts
from .keeping import once

BONDED = "dead-frog"
"""The build whose bonds are a choice: people bond all such turnouts of a plan, or none."""


def unbonded(facts: Facts) -> Iterator[Piece]:
    """The one turnout of plastic frogs in a file without a bond, where others there have theirs by habit, also where
    none is needed; but for one with metal that only its blades feed, of which that is told."""
    files: dict[str, list[Piece]] = {}
    for one in facts.layout.pieces.values():
        if one.template.shape.build and one.template.has_points:
            files.setdefault(one.statement.at.path, []).append(one)
    for pieces in files.values():
        bare = [one for one in pieces if one.template.shape.build == BONDED and not is_bonded(one)]
        if len(bare) == 1 and any(is_bonded(one) and _does_without(facts, one) for one in pieces):
            first = facts.wiring.first[bare[0].name]
            metals = range(first, first + len(bare[0].template.metals))
            if not any(metal in metals for metal in facts.untouched.dead(facts.graph.rails)):
                yield bare[0]


def _does_without(facts: Facts, piece: Piece) -> bool:
    """Whether a turnout's closure rails have power also without a bond: as it is sold, or over the joints beyond its
    plastic frog from track with wires of its own."""
    if needs_none(piece) or piece.template.shape.build != BONDED:
        return needs_none(piece)
    wired = {drop.piece for drop in facts.layout.drops}
    ends = {EndAt(piece.name, end) for end in piece.template.ends if end != "points"}
    fed = set[EndAt]()
    for meeting in facts.layout.meetings:
        for own, there in ((meeting.one, meeting.other), (meeting.other, meeting.one)):
            if own in ends and there.piece in wired and not meeting.gaps:
                fed.add(own)
    return fed == ends


def is_bonded(piece: Piece) -> bool:
    """Whether its closure rails are told to be bonded."""
    return any(isinstance(one, ClosureBond) for one in piece.work)


def needs_none(piece: Piece) -> bool:
    """Whether its closure rails are one with the stock rails as it is sold."""
    return piece.template.shape.build == "isolated-frog"


@once
def soldered_twice(facts: Facts) -> list[tuple[Feeder, Feeder]]:
    """Pairs of lines, the earlier first, that solder to the same rails at one place that both tell, or from the same
    supply where none does and some track has no wire; through contacts of other points, or in another position, it is
    another wire."""
    first: dict[tuple[object, ...], Feeder] = {}
    wired = {drop.piece for drop in facts.layout.drops}
    bare = {
        piece.statement.at.path
        for piece in facts.layout.pieces.values()
        if piece.template.is_plain and piece.name not in wired
    }
    found = []
    for one in of_kind(facts, Feeder):
        contacts = tuple(map(str, one.contacts or ()))
        place = str(one.supply) if one.place is None else float(one.place)
        known = first.setdefault((one.at.path, str(one.rail), place, contacts), one)
        if known is not one and (one.place is not None or one.at.path in bare):
            found.append((known, one))
    return found
