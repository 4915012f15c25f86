"""Track to lay, the joiners at its ends and the cuts within it, as jobs."""

from __future__ import annotations

from collections.abc import Iterator

from railbond.circuit.facts import Facts
from railbond.layout.model import Meeting, Piece
from trackplan.quantities import Number
from trackplan.span import Word
from trackplan.statements import ApproachTrack, Crossing, Segment, Statement, Turnout

from .job import Job, Task

INSULATED = "insulated joiner"
PLAIN = "metal joiner"
SOLDERED = "metal joiner, soldered"
PART_OF = ", part of: "
"""What comes before the line of something that is bought whole and stands for several pieces."""


def track_tasks(facts: Facts) -> Iterator[Task]:
    """Pieces, joiners, cuts."""
    for piece in facts.layout.pieces.values():
        yield Task(_piece(facts, piece))
        for track in piece.work:
            if isinstance(track, ApproachTrack):
                yield Task(Job("lay", piece.name, note=_text(facts, track), at=track.at))
    for meeting in facts.layout.meetings:
        yield from _joiners(facts, meeting)
    for piece in facts.layout.pieces.values():
        yield from _cuts(facts, piece)


def _piece(facts: Facts, piece: Piece) -> Job:
    """Plain track has its length, and its rail where the plan tells it."""
    statement, size = piece.statement, ""
    job = Job("lay", piece.name, note=_told(facts, piece), at=statement.at)
    if not isinstance(statement, Segment):
        return job
    rail = (statement.code, statement.metal) if statement.code is not None else _usual(facts)
    if rail[0] is not None:
        size = " ".join(["code", rail[0].text, *([str(rail[1])] if rail[1] else [])])
    return job._replace(size=size, length=float(statement.length))


def _usual(facts: Facts) -> tuple[Number | None, Word | None]:
    rails = facts.layout.rails
    return (rails.code, rails.metal) if rails else (None, None)


def _told(facts: Facts, piece: Piece) -> str:
    """The piece's own line; of a part of what stands for several pieces, a line as it would have."""
    statement, name = piece.statement, piece.name.rpartition(".")[2]
    words = _text(facts, statement)
    if words.split()[1:2] == [name] or not isinstance(statement, Turnout | Crossing):
        return words
    if isinstance(statement, Crossing):
        return f"crossing {name} {statement.angle:.3g} degrees {statement.build}{PART_OF}{words}"
    number = f" number {statement.number.text}" if statement.number is not None else ""
    return f"turnout {name} {statement.hand}{number} {statement.build}{PART_OF}{words}"


def _text(facts: Facts, statement: Statement) -> str:
    source = facts.sources.get(statement.at.path)
    return " ".join(source.text[statement.at.start : statement.at.end].split()) if source else ""


def _joiners(facts: Facts, meeting: Meeting) -> Iterator[Task]:
    """One a rail. Two rails with a gap between have an insulated joiner, or none and air."""
    place = f"{meeting.one} / {meeting.other}"
    plain = SOLDERED if meeting.one in facts.layout.soldered else PLAIN
    for side in ("left", "right"):
        ends = facts.wiring.across(meeting, side)
        one, other = (facts.graph.names[rail].partition(" (")[0] for rail in ends)
        gap = meeting.gaps.get(side)
        job = Job("joiner", meeting.one.piece, place, f"{one} | {other}", note=INSULATED if gap else plain)
        yield Task(job._replace(at=gap.at if gap else meeting.at), ends, gap is not None)


def _cuts(facts: Facts, piece: Piece) -> Iterator[Task]:
    """Looking along a segment's arrow."""
    for link in piece.template.links:
        for side, one, other in zip(("left", "right"), link.rails_one, link.rails_other, strict=True):
            if one != other:
                place = f"{piece.name} at {link.offset * 100:g} cm"
                ends = facts.wiring.metal(piece.name, one), facts.wiring.metal(piece.name, other)
                yield Task(Job("cut", piece.name, place, f"{side} rail", at=piece.statement.at), ends, True)
