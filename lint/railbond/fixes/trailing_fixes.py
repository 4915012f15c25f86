"""Mends of frogs that no contacts of others' points can serve: over which trains trail from either route, as at a
spring switch, or of a crossing whose tracks come with other legs than those contacts bring."""

from __future__ import annotations

from collections.abc import Iterator

from railbond.circuit.facts import Facts
from railbond.findings import Fix
from railbond.layout.model import Piece
from trackplan.amend import set_statement
from trackplan.edit import Edit
from trackplan.statements import FrogAutomatic

from .candidates import CandidateFix, curing
from .fix_edits import JUMPERS, isolated, line_after, local
from .frog_feeds import needs_words, unit_lines, unit_wire, units


def trailing_cures(facts: Facts) -> list[tuple[CandidateFix, ...]]:
    """For each piece without points to throw, an automatic frog unit, where that makes its passes good."""
    names = {facts.piece_of(conductor) for roll, _ in facts.opposed for conductor in (roll.one, roll.other)}
    pieces = (facts.layout.pieces[name] for name in sorted(filter(None, names)))
    throwless = (piece for piece in pieces if len(piece.template.positions) == 1 or piece.template.aligned)
    candidates = (_cure(facts, piece) for piece in throwless if piece.template.frogs)
    return [
        (candidate,) for candidate in curing(facts, candidates, lambda tried: len(tried.opposed) < len(facts.opposed))
    ]


def _cure(facts: Facts, piece: Piece) -> CandidateFix:
    name, edits = local(piece), tuple(unit_edits(facts, piece))
    cut = f"cut the rails on both sides of its frog but {JUMPERS}; solder each closure rail to its stock rail, and "
    frogs = range(len(piece.template.frogs))
    count = units(piece, frogs)
    is_cut = piece.template.shape.build == "live-frog"
    words = f"{cut if is_cut else ''}feed the frog{'s' * (len(frogs) > 1)} of {name} from {needs_words(count)}"
    changes = f"{needs_words(count)} {'is' if count == 1 else 'are'} added at {name}"
    return CandidateFix(piece.statement.at, Fix(words, edits, plain=False, changes=changes), (piece.name,))


def unit_edits(facts: Facts, piece: Piece) -> Iterator[Edit]:
    """Automatic units in the place of whatever feeds a piece's frogs; a live frog is cut out first. None where no wire
    of the plan could feed one."""
    wire = unit_wire(facts, piece)
    if not wire:
        return
    if piece.template.shape.build == "live-frog":
        yield from isolated(facts, piece)
    lines = unit_lines(facts, piece, wire)
    for feed in facts.layout.feeds(piece.name):
        yield set_statement(feed.statement, lines.pop(0) if lines else "")
    yield from (line_after(facts, FrogAutomatic, piece.statement, line) for line in lines)
