"""Switched frogs whose two contacts bring the wrong leg, and would bring the right one swapped."""

from __future__ import annotations

from collections.abc import Iterator

from railbond.layout.model import FrogFeed, Piece
from railbond.layout.template import Frog
from trackplan.statements import FrogSwitched

from .facts import Facts
from .graph import Setting, SupplyLeg, agree
from .wiring import contacts

Wrong = tuple[str, Setting, SupplyLeg, SupplyLeg]
"""A position in which a contact opposes the rail that its frog should match, how it and all else that brings the two
legs stands then, and the legs wanted and brought."""

Backwards = tuple[Piece, FrogFeed, Frog, str, Setting, SupplyLeg, SupplyLeg]
"""A frog of a piece, its feed, and the first position in which it gets the wrong leg, as `Wrong` says it."""


def backwards(facts: Facts) -> Iterator[Backwards]:
    """Frogs with the wrong leg in some position, where swapping the contacts gives the right one in all; one a feed."""
    for feed in facts.layout.frogs.values():
        piece = facts.layout.pieces[feed.piece]
        own = feed.mover in (None, feed.piece) or feed.piece in facts.wiring.aligned
        if isinstance(feed.statement, FrogSwitched) and len(feed.contacts) == 2 and own:
            asked = ((frog, _wrong(facts, piece, frog, feed)) for frog in facts.layout.fed_frogs(feed))
            if found := next(((frog, *wrong) for frog, wrong in asked if wrong), None):
                yield piece, feed, *found


def _wrong(facts: Facts, piece: Piece, frog: Frog, feed: FrogFeed) -> Wrong | None:
    """The first position in which the contact opposes the rail that the frog should match."""
    wrong = [found for position in frog.wants if (found := _opposed(facts, piece, frog, feed, position))]
    if not wrong:
        return None
    swapped = feed._replace(contacts=dict(zip(feed.contacts, reversed(feed.contacts.values()), strict=True)))
    cured = not any(_opposed(facts, piece, frog, swapped, position) for position in frog.wants)
    return wrong[0] if cured else None


def _opposed(facts: Facts, piece: Piece, frog: Frog, feed: FrogFeed, position: str) -> Wrong | None:
    rail = facts.wiring.metal(piece.name, frog.wants[position])
    stands = dict(facts.wiring.needs(piece.name, (position,)))
    for literal, wire in contacts(facts.wiring, feed, frog):
        if literal[1] not in stands.get(literal[0], ()):
            continue
        for brought in facts.proof.reachable(facts.wiring.wire(wire)):
            for wanted in facts.proof.reachable(rail):
                setting = brought.setting | wanted.setting | {literal}
                if brought.source.opposes(wanted.source) and agree(setting):
                    return position, setting, wanted.source, brought.source
    return None
