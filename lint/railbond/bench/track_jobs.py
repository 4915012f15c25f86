"""Track to lay, the joiners at its ends and the cuts within it, as jobs."""

from __future__ import annotations

from collections.abc import Iterator

from railbond.circuit.facts import Facts
from railbond.layout.model import Meeting, Piece
from railbond.layout.said import PART_OF as PART_OF
from railbond.layout.said import line
from trackplan.statements import ApproachTrack, Statement

from .job import Job, Task

INSULATED = "insulated joiner"
PLAIN = "metal joiner"
SOLDERED = "metal joiner, soldered"


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
    template, at = piece.template, piece.statement.at
    job = Job("lay", piece.name, note=line(piece, _text(facts, piece.statement)), at=at)
    if not template.is_plain:
        return job
    code, metal = (template.shape.code, template.shape.metal) if template.shape.code else _usual(facts)
    size = f"code {code:g} {metal}".rstrip() if code else ""
    return job._replace(size=size, length=template.length)


def _usual(facts: Facts) -> tuple[float | None, str]:
    rails = facts.layout.rails
    return (float(rails.code), str(rails.metal or "")) if rails else (None, "")


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
