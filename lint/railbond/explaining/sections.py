"""Slips with the section of a loop or wye: cut once at the points, where each of the two legs should be cut."""

from __future__ import annotations

from collections.abc import Iterator

from railbond.circuit.facts import Facts
from railbond.fixes.fix_edits import beside, local
from railbond.fixes.wires_nearby import is_reversing
from railbond.layout.model import Meeting, Piece
from trackplan.amend import set_word
from trackplan.edit import Edit, add_line
from trackplan.statements import FrogAutomatic, FrogSwitched, Gap

from .frogs import rewired
from .slip import HandSlip

LEGS = 2


def section_slips(facts: Facts, piece: Piece) -> Iterator[HandSlip]:
    """The cut at a turnout's points made at both of its legs instead, so that it is part of the section behind."""
    at = {end.end: one for one in facts.layout.meetings for end in (one.one, one.other) if end.piece == piece.name}
    legs = [name for name in piece.template.ends if name != "points"]
    points = at.get("points")
    cuts = set(points.gaps.values()) if points else set[Gap]()
    if (
        points is None
        or not _is_by_a_reverser(facts, points, piece)
        or len(legs) != LEGS
        or len(cuts) != 1
        or any(name not in at or at[name].gaps for name in legs)
    ):
        return
    (gap,) = cuts
    one, other = (f"{local(piece)}.{name}" for name in legs)
    edits = (set_word(gap, gap.place, one), add_line(beside(facts, Gap, gap.at), f"gap {other}  {gap.rail}"))
    words = f"close the cut at {gap.place} and cut at {one} and {other} instead ({gap.rail})"
    said = f"the cut at {gap.place} belongs to both legs of {local(piece)}"
    slip = HandSlip("legs", gap.at, edits, words, said, (piece.name,), 0, len(edits))
    yield slip
    if moved := tuple(_frog_moved(facts, piece, points)):
        yield slip._replace(
            edits=(*edits, *moved), words=f"{words}, and feed its frog from there", lines=len(edits) + 1
        )


def _is_by_a_reverser(facts: Facts, points: Meeting, piece: Piece) -> bool:
    """Whether the track turns, and a reverser feeds what lies at one of the turnout's ends."""
    ends = [(one.one.piece, one.other.piece) for one in facts.layout.meetings]
    beside = {name for pair in ends if piece.name in pair for name in pair} | {points.one.piece, points.other.piece}
    wires = {drop.wire.name for drop in facts.layout.drops if drop.piece in beside}
    return bool(facts.turning.forest.odd) and any(is_reversing(facts, wire) for wire in wires)


def _frog_moved(facts: Facts, piece: Piece, points: Meeting) -> Iterator[Edit]:
    """The turnout's frog on the wire that the track at its points has."""
    feed = facts.layout.frogs.get(piece.name)
    beyond = points.one if points.other.piece == piece.name else points.other
    wire = next((drop.wire.name for drop in facts.layout.drops if drop.piece == beyond.piece), "")
    if feed and wire and isinstance(feed.statement, FrogAutomatic | FrogSwitched):
        yield from rewired(facts, feed, feed.statement, wire)
