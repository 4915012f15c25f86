"""Where the metal of a frog runs out through its frog rails, and by which doors else it meets power."""

from __future__ import annotations

from collections.abc import Iterator

from railbond.circuit.facts import Facts
from railbond.circuit.graph import Bond
from railbond.layout.model import EndAt, Meeting, Piece
from railbond.layout.template import OTHER_SIDE, Frog
from trackplan.record import NamedTuple


class Exit(NamedTuple):
    """A frog rail that runs out of its frog's metal (`unit`) through an ungapped joint.

    `side` is the rail's side looking out of `meeting.one`, and `beyond` the conductor on the far side of the joint.
    """

    piece: Piece
    end: str
    unit: frozenset[int]
    meeting: Meeting
    side: str
    beyond: int


def exits(facts: Facts) -> Iterator[Exit]:
    """Every exit of every metal frog."""
    meetings = {end: meeting for meeting in facts.layout.meetings for end in (meeting.one, meeting.other)}
    for piece in facts.wiring.pieces:
        for frog in piece.template.frogs:
            unit = _unit(piece, frog.metal)
            for name, side in _frog_rail_ends(piece, frog, unit):
                meeting = meetings.get(EndAt(piece.name, name))
                if meeting and (found := _exit(facts, piece, name, side, unit, meeting)):
                    yield found


def _unit(piece: Piece, frog: int) -> set[int]:
    """The frog and all that came as one metal with it."""
    unit = {frog}
    ties = [tie for tie in piece.template.ties if tie.when is None and tie.kind == "build"]
    while grown := {m for t in ties if unit & {t.one, t.other} for m in (t.one, t.other)} - unit:
        unit |= grown
    return unit


def _frog_rail_ends(piece: Piece, frog: Frog, unit: set[int]) -> Iterator[tuple[str, str]]:
    """The ends, and their side looking out, at which a frog rail of the unit runs out; of trackwork that a plan builds
    rail by rail, any rail that is one metal with the frog."""
    rails = set(frog.rails.values()) or unit - {frog.metal}
    for name, end in piece.template.ends.items():
        for side in ("left", "right"):
            if end.side(side) in unit & rails:
                yield name, side


def _exit(facts: Facts, piece: Piece, name: str, side: str, unit: set[int], meeting: Meeting) -> Exit | None:
    first = meeting.one == (piece.name, name)
    seen = side if first else OTHER_SIDE[side]
    if seen in meeting.gaps:
        return None
    rails = facts.wiring.across(meeting, seen)
    base = facts.wiring.first[piece.name]
    return Exit(piece, name, frozenset(base + metal for metal in unit), meeting, seen, rails[1 if first else 0])


def doors(facts: Facts, one: Exit) -> Iterator[tuple[int, Bond]]:
    """What else the frog meets: (outer conductor, bond) for each blade, wire, bond and other frog rail.

    The wheel that rolls onto the frog from its closure rail is a door too, a bond of kind `wheel`.
    """
    for conductor in one.unit:
        for bond in facts.witness.of(conductor):
            outer = bond.other if bond.one in one.unit else bond.one
            if outer not in one.unit and outer != one.beyond:
                yield outer, bond
    base = facts.wiring.first[one.piece.name]
    for step in one.piece.template.passes:
        ends = {base + step.one, base + step.other}
        for outer in ends - one.unit if ends & one.unit else ():
            when = (one.piece.name, step.route) if step.route else None
            yield outer, Bond(base + step.one, base + step.other, when, "wheel", one.piece.statement.at)
