"""All slips that might explain a conflict: those of its lines, of its joints and of its pieces, each once.

Slips of names, numbers, couplings and dead track are loaded for conflicts that may have them.
"""

from __future__ import annotations

from collections.abc import Iterator
from collections.abc import Set as AbstractSet

from railbond.circuit.by_kind import of_kind
from railbond.circuit.facts import Facts
from railbond.findings import Finding
from railbond.layout.model import Meeting, Piece
from trackplan.statements import (
    ApproachTrack,
    Block,
    Bus,
    ClosureBond,
    Couple,
    Cut,
    Endplate,
    Feeder,
    FrogAutomatic,
    FrogFromStockRails,
    FrogSwitched,
    Gap,
    Reverser,
    Statement,
)

from .commons import common_slips
from .conflicts import Conflict
from .cuts import gap_slips, meeting_slips, midst_slips, moved_to
from .frogs import feed_slips, piece_slips, work_slips
from .misplaced import misplaced_cuts, misplaced_drops
from .practice import LIKELY
from .runs import run_slips
from .sections import section_slips
from .slip import HandSlip
from .track import arrow_slips, district_slips, promise_slips, turnout_slips
from .wires import feeder_slips, local_name

Work = ClosureBond | Cut | FrogFromStockRails | FrogSwitched | FrogAutomatic
EVERY = frozenset(LIKELY)
OF_RUNS = frozenset({"run", "uncrossed", "source"})
WORKS: tuple[type[Work], ...] = (ClosureBond, Cut, FrogFromStockRails, FrogSwitched, FrogAutomatic)


def slips(facts: Facts, conflict: Conflict, kinds: AbstractSet[str] = EVERY, units: bool = False) -> list[HandSlip]:
    """The slips of these kinds to be tried, the likeliest first, of equals by what they are about, not by the order of
    lines; those with numbers only where `units` are in doubt."""
    found: dict[object, HandSlip] = {}
    for slip in _all(facts, conflict, kinds, units):
        if slip.kind not in kinds:
            continue
        known = found.setdefault(slip.edits, slip)
        if slip.weight > known.weight:
            found[slip.edits] = slip
    return sorted(found.values(), key=lambda slip: (-round(slip.weight, 6), slip.kind, slip.names))


def _all(facts: Facts, conflict: Conflict, kinds: AbstractSet[str], units: bool) -> Iterator[HandSlip]:
    for statement in facts.statements:
        if statement.at in conflict.lines and statement.at.end > statement.at.start:
            yield from (slip for slip in of_line(facts, statement, kinds) if slip.kind != "arrow" or not conflict.dead)
            if units:
                from .typing_slips import typed_slips
                from .words import unit_slips

                yield from unit_slips(facts, statement)
                yield from typed_slips(facts, statement)
    for number in conflict.meetings:
        yield from of_joint(facts, facts.layout.meetings[number])
    for name in conflict.pieces:
        piece = facts.layout.pieces[name]
        for gap in cuts_within(facts, piece):
            yield from gap_slips(facts, gap)
            yield from misplaced_cuts(facts, piece, gap)
        yield from midst_slips(facts, piece)
        if piece.template.frogs or piece.template.blades:
            yield from piece_slips(facts, piece)
            yield from section_slips(facts, piece)
            yield from works_meant(facts, name)
        if piece.template.bridge:
            from .feeds import ring_slips
            from .tables import side_slips

            yield from ring_slips(facts, piece)
            yield from side_slips(facts, local_name(name))
    if conflict.dead:
        from .feeds import dead_slips

        yield from dead_slips(facts, list(conflict.dead))
    yield from common_slips(facts)
    if facts.layout.faults:
        from .copied import copied_slips
        from .ends import end_slips
        from .leg_names import leg_slips
        from .nameless import nameless_slips
        from .words import name_slips

        yield from copied_slips(facts)
        yield from name_slips(facts)
        yield from nameless_slips(facts)
        yield from leg_slips(facts)
        yield from end_slips(facts)


def cuts_within(facts: Facts, piece: Piece) -> Iterator[Gap]:
    """The cuts that are made between the ends of plain track."""
    for one in of_kind(facts, Gap) if piece.template.links else ():
        if one.offset is not None and one in piece.work:
            yield one


def of_line(facts: Facts, statement: Statement, kinds: AbstractSet[str] = EVERY) -> Iterator[HandSlip]:
    """The slips of one line; of a run, which has most, only where some of these kinds are among them."""
    yield from arrow_slips(facts, statement)
    yield from turnout_slips(facts, statement)
    if isinstance(statement, Feeder):
        yield from feeder_slips(facts, statement)
        yield from misplaced_drops(facts, statement)
    elif isinstance(statement, Bus):
        if not kinds.isdisjoint(OF_RUNS):
            yield from run_slips(facts, statement)
    elif isinstance(statement, Gap):
        yield from gap_slips(facts, statement)
    elif isinstance(statement, Endplate):
        yield from promise_slips(facts, statement)
    elif isinstance(statement, Block | Reverser):
        yield from district_slips(facts, statement)
    elif isinstance(statement, ApproachTrack):
        from .tables import place_slips

        yield from place_slips(facts, statement)
    elif isinstance(statement, Couple):
        from .couplings import couple_slips

        yield from couple_slips(facts, statement)
    if isinstance(statement, FrogSwitched | FrogAutomatic):
        yield from feed_slips(facts, statement)
    if isinstance(statement, WORKS):
        yield from work_slips(facts, statement)


def of_joint(facts: Facts, meeting: Meeting) -> Iterator[HandSlip]:
    """A cut that is missing at a joint: forgotten, in the other rail, or made at a joint nearby."""
    yield from meeting_slips(facts, meeting)
    for gap in dict.fromkeys(meeting.gaps.values()):
        yield from gap_slips(facts, gap)
    for far, other in _joints_around(facts, meeting) if not meeting.gaps else ():
        for gap in dict.fromkeys(other.gaps.values()):
            yield from (slip._replace(far=slip.far + far) for slip in moved_to(facts, gap, other, meeting))


def _joints_around(facts: Facts, meeting: Meeting) -> Iterator[tuple[int, Meeting]]:
    """The joints at the other ends of the two pieces that meet, and then those one piece further on."""
    pieces, told = {meeting.one.piece, meeting.other.piece}, {id(meeting)}
    for far in range(2):
        ring = [one for one in facts.layout.meetings if pieces & {one.one.piece, one.other.piece}]
        yield from ((far, one) for one in ring if id(one) not in told)
        told |= {id(one) for one in ring}
        pieces = {name for one in ring for name in (one.one.piece, one.other.piece)}


def works_meant(facts: Facts, name: str) -> Iterator[HandSlip]:
    """Work at a turnout of nearly the same name that was meant for this one."""
    for statement in of_kind(facts, *WORKS):
        yield from (slip for slip in work_slips(facts, statement) if name.rpartition(".")[2] in slip.names)


def proposed(found: list[Finding]) -> Iterator[HandSlip]:
    """What the rules propose and `mend` makes unasked, as far as it is no slip by another name."""
    for finding in found:
        for fix in finding.fixes:
            if fix.plain and fix.edits:
                kind = "misspelled" if finding.happens == "on paper" else "listed"
                yield HandSlip(kind, finding.at, fix.edits, fix.words, "", finding.names, 0, len(fix.edits))
