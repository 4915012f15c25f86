"""Lines that were copied, and of which the name was not changed: work told twice at one turnout and not at another, a
joint that is cut twice while another is not, a drop beyond the end of its track."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from railbond.circuit.by_kind import holding, of_kind
from railbond.circuit.facts import Facts
from railbond.circuit.odd_lines import is_bonded, needs_none
from railbond.fixes.fix_edits import local
from railbond.layout.model import Fault, Piece
from railbond.layout.template import frog_names
from trackplan.amend import set_word
from trackplan.statements import (
    ClosureBond,
    Cut,
    Feeder,
    FrogAutomatic,
    FrogFromStockRails,
    FrogSwitched,
    FrogUnpowered,
    Gap,
    Statement,
)

from .conflicts import conflicts
from .cuts import moved_to
from .like_cuts import lacks_its_like
from .practice import EARLIER
from .slip import HandSlip

Frogs = FrogSwitched | FrogFromStockRails | FrogAutomatic | FrogUnpowered
FROGS: tuple[type[Frogs], ...] = (FrogSwitched, FrogFromStockRails, FrogAutomatic, FrogUnpowered)

MOST_LACKING = 6
"""Turnouts and tracks that lack a line and are tried, the nearest in the text first."""

MOST_JOINTS = 12
"""Joints without a cut that are tried for a cut that is told twice."""

OUT_OF_ORDER = 1.0
"""How much further off each line is that would then stand before another whose turnout is told before its own."""

UNLIKE = 2.0
"""How much further off a joint is whose like are not cut."""


def copied_slips(facts: Facts) -> Iterator[HandSlip]:
    """For everything that is told twice, what else one of both lines may have been meant for."""
    for fault in facts.layout.faults:
        later = holding(facts, fault.at)
        earlier = holding(facts, fault.why[0].at) if fault.why and fault.why[0].at else None
        if isinstance(later, Feeder):
            yield from _beyond(facts, fault, later)
        elif isinstance(later, Gap) and isinstance(earlier, Gap):
            yield from _cut_twice(facts, later)
        elif isinstance(later, Frogs | ClosureBond | Cut) and isinstance(earlier, Frogs | ClosureBond | Cut):
            yield from _done_twice(facts, later, earlier)


def _done_twice(
    facts: Facts, later: Frogs | ClosureBond | Cut, earlier: Frogs | ClosureBond | Cut
) -> Iterator[HandSlip]:
    """One of both at a turnout that lacks such work: where the lines then stand in the order of the turnouts."""
    lacking = _nearest(facts, later, _lacking(facts, later))
    for name in lacking:
        words = f"do this at {name} in place of {later.turnout}"
        said = f"the line was copied, and names {later.turnout} in place of {name}"
        for statement, far in ((later, 0.0), (earlier, EARLIER)):
            edits = (set_word(statement, statement.turnout, name),)
            far += OUT_OF_ORDER * _out_of_order(facts, statement, name)
            yield HandSlip("copied", statement.at, edits, words, said, (str(statement.turnout), name), far)


def _lacking(facts: Facts, work: Frogs | ClosureBond | Cut) -> Iterator[tuple[str, Piece]]:
    """What has no work of a kind, as a line names it: turnouts, and the one of several frogs."""
    for piece in facts.layout.pieces.values():
        if piece.statement.at.path != work.at.path:
            continue
        if isinstance(work, ClosureBond):
            if piece.template.blades and not (needs_none(piece) or is_bonded(piece)):
                yield local(piece), piece
        elif isinstance(work, Cut):
            if piece.template.shape.build == "live-frog" and not any(isinstance(one, Cut) for one in piece.work):
                yield local(piece), piece
        elif piece.template.frogs:
            fed = {feed.name for feed in facts.layout.feeds(piece.name)}
            if not fed:
                yield local(piece), piece
            elif piece.name not in fed:
                bare = (one for one in frog_names(piece.template) if f"{piece.name}.{one}" not in fed)
                yield from ((f"{local(piece)}.{one}", piece) for one in bare)


def _nearest(facts: Facts, work: Statement, lacking: Iterable[tuple[str, Piece]]) -> list[str]:
    """The names of what lacks a line, the nearest in the text to what has two first."""
    twice = str(getattr(work, "turnout", "")).partition(".")[0]
    own = next((one.statement.at.start for one in facts.layout.pieces.values() if local(one) == twice), 0)
    found = sorted(lacking, key=lambda one: abs(one[1].statement.at.start - own))
    return [name for name, _ in found[:MOST_LACKING]]


def _out_of_order(facts: Facts, statement: Frogs | ClosureBond | Cut, name: str) -> int:
    """How many lines of the kind would stand before one whose turnout is told before theirs, with another name."""
    kinds = FROGS if isinstance(statement, Frogs) else (type(statement),)
    places = {local(piece): nth for nth, piece in enumerate(facts.layout.pieces.values())}
    lines = [one for one in of_kind(facts, *kinds) if one.at.path == statement.at.path]
    named = (name if one.at == statement.at else str(one.turnout) for one in lines)
    order = [places.get(one.partition(".")[0], 0) for one in named]
    return sum(one > other for one, other in zip(order, order[1:], strict=False))


def _cut_twice(facts: Facts, gap: Gap) -> Iterator[HandSlip]:
    """The later cut at a joint through which supplies meet that a cut should part."""
    here = next((one for one in facts.layout.meetings if any(gap[1:] == cut[1:] for cut in one.gaps.values())), None)
    numbers = dict.fromkeys(number for one in conflicts(facts)[:1] for number in one.meetings)
    joints = [facts.layout.meetings[number] for number in numbers]
    for there in [one for one in joints if not one.gaps][:MOST_JOINTS] if here else ():
        assert here is not None
        far = UNLIKE * (not lacks_its_like(facts, there))
        for nth, slip in enumerate(moved_to(facts, gap, here, there)):
            yield slip._replace(kind="copied", far=far + nth * EARLIER)


def _beyond(facts: Facts, fault: Fault, feeder: Feeder) -> Iterator[HandSlip]:
    """A drop at a place that its track does not have, for track that has it and no wires."""
    name, dot, rail = str(feeder.rail).partition(".")
    place, wired = feeder.place, {drop.piece for drop in facts.layout.drops}
    own = next((piece for piece in facts.layout.pieces.values() if local(piece) == name), None)
    if place is None or own is None or fault.rule != "impossible" or place <= own.template.length:
        return
    bare = [piece for piece in facts.layout.pieces.values() if piece.name not in wired and _has(piece, feeder)]
    bare.sort(key=lambda piece: abs(piece.statement.at.start - own.statement.at.start))
    for far, piece in enumerate(bare[:MOST_LACKING] if own.name in wired else ()):
        words, said = (
            f"solder the wire to {name} to {local(piece)} instead",
            f"the wire to {name} belongs to {local(piece)}",
        )
        edits = (set_word(feeder, feeder.rail, f"{local(piece)}{dot}{rail}"),)
        yield HandSlip("copied", feeder.at, edits, words, said, (name, local(piece)), far)


def _has(piece: Piece, feeder: Feeder) -> bool:
    at = piece.statement.at
    return piece.template.is_plain and at.path == feeder.at.path and (feeder.place or 0.0) <= piece.template.length
