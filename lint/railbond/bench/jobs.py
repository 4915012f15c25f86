"""What somebody has to do for a plan, one job at a time: cuts, joiners, bonds, wires and devices."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import chain

from railbond.circuit.facts import Facts
from railbond.layout.model import Piece
from railbond.layout.template import Tie

from .job import KINDS, Job
from .uncut import bonds, jumpers
from .wires import wire_jobs


def jobs(facts: Facts) -> list[Job]:
    """Every job of a plan, kind by kind in the order of work."""
    order = list(KINDS)
    found = chain(_track(facts), _joiners(facts), _cuts(facts), _metalwork(facts), wire_jobs(facts))
    return sorted(found, key=lambda job: order.index(job.kind))


def _track(facts: Facts) -> Iterator[Job]:
    for piece in facts.layout.pieces.values():
        at = piece.statement.at
        source = facts.sources.get(at.path)
        words = " ".join(source.text[at.start : at.end].split()) if source else piece.name
        yield Job("lay", piece.name, note=words, at=at)


def _joiners(facts: Facts) -> Iterator[Job]:
    for meeting in facts.layout.meetings:
        place = meeting.name or f"{meeting.one} / {meeting.other}"
        for side, gap in meeting.gaps.items():
            one, other = (facts.graph.names[rail] for rail in facts.wiring.across(meeting, side))
            yield Job("joiner", meeting.one.piece, place, f"{one} | {other}", at=gap.at)


def _cuts(facts: Facts) -> Iterator[Job]:
    """Looking along a segment's arrow."""
    for piece in facts.layout.pieces.values():
        for link in piece.template.links:
            for side, one, other in zip(("left", "right"), link.rails_one, link.rails_other, strict=True):
                if one != other:
                    place = f"{piece.name} at {link.offset * 100:g} cm"
                    yield Job("cut", piece.name, place, f"{side} rail", at=piece.statement.at)


def _metalwork(facts: Facts) -> Iterator[Job]:
    for piece in facts.layout.pieces.values():
        for cut, tie in jumpers(piece):
            yield Job("jumper", piece.name, rail=_between(piece, tie), at=cut.at)
        for bond, tie in bonds(piece):
            yield Job("bond", piece.name, rail=_between(piece, tie), at=bond.at)


def _between(piece: Piece, tie: Tie) -> str:
    metals = piece.template.metals
    return f"{metals[tie.one].words} - {metals[tie.other].words}"
