"""Trackwork whose own two tracks come with opposite legs, as both loops of an eight bring them to their crossing: no
metal frog between its rails serves both."""

from __future__ import annotations

from collections.abc import Iterator

from railbond.circuit.facts import Facts
from railbond.findings import Fix
from railbond.layout.said import said
from trackplan.amend import set_word

from .candidates import CandidateFix
from .fix_edits import local, taken_out

PLASTIC = "dead-frog"


def plastic_frogs(facts: Facts) -> Iterator[CandidateFix]:
    """Trackwork within which a wheel rolls from one leg onto the other, with frogs of plastic in place of metal ones,
    and without the lines that fed those."""
    for name in _opposed_within(facts):
        piece, build = facts.layout.pieces[name], said(facts.layout.pieces[name], "build")
        if build and build != PLASTIC:
            feeds = {feed.statement.at: feed.statement for feed in facts.layout.feeds(name)}
            gone = tuple(taken_out(facts, statement) for statement in feeds.values())
            words = f"in the place of {local(piece)} put trackwork whose frogs are all plastic"
            changes = f"{local(piece)} is another one, without metal frogs: a short engine may stall on it"
            fix = Fix(words, (set_word(piece.statement, build, PLASTIC), *gone), plain=False, changes=changes)
            yield CandidateFix(piece.statement.at, fix, (name,))


def _opposed_within(facts: Facts) -> list[str]:
    """The pieces of which both rails of an opposed pass are."""
    pairs = ((facts.piece_of(roll.one), facts.piece_of(roll.other)) for roll, _ in facts.opposed)
    return sorted({one for one, other in pairs if one == other})
