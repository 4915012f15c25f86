"""A reverser's section made longer: the gaps of an end moved outwards over the plain track there, with its feeders."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import product

from railbond.circuit.facts import Facts
from railbond.circuit.running import measure
from railbond.findings import Fix
from railbond.layout.model import Drop, EndAt, Meeting
from railbond.layout.said import said
from trackplan.amend import set_word
from trackplan.edit import Edit
from trackplan.record import NamedTuple
from trackplan.statements import Feeder, Gap
from trackplan.typed import TYPE_CHECKING

from .fix_edits import gap_edits, local, places_of, uncrossed
from .running_words import moved_gaps, wires_of

if TYPE_CHECKING:
    from railbond.circuit.running.reversing import BoundaryCrossing, Sections, Through


class Move(NamedTuple):
    """The edits that move one end outwards, and the same in words."""

    edits: tuple[Edit, ...]
    words: str


class Outside(NamedTuple):
    """The plain track beyond a cut: a segment from `start` to `stop`, meters, the gaps that part it from the section,
    and the meeting at its far end."""

    segment: str
    start: float
    stop: float
    gaps: tuple[Gap, ...]
    far: Meeting


def longer(facts: Facts, sections: Sections, through: Through, wanted: int) -> Fix | None:
    """The section made at least `wanted` micrometers long by moving one of its ends, or both, where that does."""
    ends = through.into, _seen_going_in(sections, through.out)
    options = [[None, *(_moves(facts, sections, end) if end else ())] for end in ends]
    for moves in sorted(product(*options), key=lambda pair: sum(one is not None for one in pair)):
        made = [one for one in moves if one is not None]
        edits = tuple(edit for one in made for edit in one.edits)
        if made and (length := _length_after(facts, sections.reverser, edits)) >= wanted:
            words = " and ".join(one.words for one in made)
            changes = f"the section of {sections.reverser} becomes {measure(length)} long"
            return Fix(words, edits, plain=False, changes=changes)
    return None


def _seen_going_in(sections: Sections, out: BoundaryCrossing) -> BoundaryCrossing | None:
    """The way in at the place of a way out."""
    return next((one for one in sections.entries if sections.place(one) == sections.place(out)), None)


def _length_after(facts: Facts, reverser: str, edits: tuple[Edit, ...]) -> int:
    """The shortest way through the section once the edits are made; nothing where they break something else."""
    from railbond.circuit.running.answers import running

    made = facts.tried(edits)
    if made is None:
        return 0
    worse = [
        len(made.layout.faults) > len(facts.layout.faults),
        len(made.shorts) + len(made.minglings) > len(facts.shorts) + len(facts.minglings),
        len(made.opposed) > len(facts.opposed),
        _unfed(made) > _unfed(facts),
    ]
    ways = [] if any(worse) else running(made).sections[reverser].conflicting
    return ways[0].length if ways else 0


def _unfed(facts: Facts) -> int:
    return len(facts.proof.dead(facts.graph.rails))


def _moves(facts: Facts, sections: Sections, end: BoundaryCrossing) -> Iterator[Move]:
    """How the end of a section is moved over the segment outside it, if it is one and both its rails are cut there."""
    outside = _outside(facts, end)
    asked = {one.turned for one in sections.asked(end)}
    if outside is None or len(asked) != 1:
        return
    cuts = gap_edits(facts, outside.far, ("left", "right"))
    edits = [*moved_gaps(outside.gaps, cuts)]
    feeders = {drop.statement.at: drop for drop in facts.layout.drops if _lies(drop, outside)}
    for drop in feeders.values():
        edits += _refed(facts, drop, sections.reverser, turned=asked == {True})
    name = local(facts.layout.pieces[outside.segment])
    made = f"cut {places_of(cuts)}" if cuts else "leave the cuts beyond as they are"
    words = f"close the gaps at {sections.place(end)}, {made} and feed {name} from {sections.reverser}"
    yield Move(tuple(edits), words)


def _outside(facts: Facts, end: BoundaryCrossing) -> Outside | None:
    from railbond.circuit.running.answers import running

    beyond, leg = running(facts).track.beyond, end.leg
    if end.offset:
        place = end.offset / 1e6
        far, length = EndAt(leg.piece, leg.enter), leg.length / 1e6
        bounds = (0.0, place) if leg.enter == "start" else (length - place, length)
    else:
        entered = beyond[EndAt(leg.piece, leg.enter)]
        piece = facts.layout.pieces[entered.piece]
        if not piece.template.is_plain or piece.template.links:
            return None
        far = EndAt(entered.piece, "finish" if entered.end == "start" else "start")
        bounds = 0.0, piece.template.length
    gaps = _gaps(facts, end)
    meeting = next((one for one in facts.layout.meetings if far in (one.one, one.other)), None)
    return Outside(far.piece, *bounds, gaps, meeting) if meeting and gaps else None


def _gaps(facts: Facts, end: BoundaryCrossing) -> tuple[Gap, ...]:
    """The gap statements at a cut; none where only one of its rails is cut."""
    leg = end.leg
    if end.offset:
        at = (end.offset if leg.enter == "start" else leg.length - end.offset) / 1e6
        work = facts.layout.pieces[leg.piece].work
        found = [one for one in work if isinstance(one, Gap) and abs(float(one.offset or 0) - at) < 1e-6]
        return tuple(found) if len(found) == 2 or any(one.rail == "both rails" for one in found) else ()
    entered = EndAt(leg.piece, leg.enter)
    meeting = next(one for one in facts.layout.meetings if entered in (one.one, one.other))
    return tuple(dict.fromkeys(meeting.gaps.values())) if len(meeting.gaps) == 2 else ()


def _lies(drop: Drop, outside: Outside) -> bool:
    return drop.piece == outside.segment and outside.start < (drop.place or 0.0) < outside.stop


def _refed(facts: Facts, drop: Drop, reverser: str, turned: bool) -> list[Edit]:
    """A feeder moved to the reverser, its legs swapped where the section has them the other way round."""
    feeder: Feeder = drop.statement
    fed = {one.wire.name for one in facts.layout.drops}
    name = next((wire for wire in wires_of(facts, reverser) if wire in fed), reverser).rpartition(".")[2]
    if "." in feeder.rail:
        legs = facts.layout.legs_of(reverser)
        return [set_word(feeder, feeder.supply, f"{name}.{legs[drop.wire.leg != turned]}")]
    return [set_word(feeder, feeder.supply, name), *(uncrossed(facts, feeder) if turned else ())]


SPARE = 50_000
"""Micrometers by which a section that is laid anew is longer than the train."""


def laid_longer(facts: Facts, way: Through, length: int) -> Fix | None:
    """The longest plain track of a section laid so much longer that it holds a length in micrometers."""
    pieces = (facts.layout.pieces[leg.piece] for leg in way.legs)
    piece = max((one for one in pieces if one.template.is_plain), key=lambda one: one.template.length, default=None)
    told = said(piece, "length") if piece else None
    if piece is None or told is None:
        return None
    centimeters = -(-(round(piece.template.length * 1e6) + length - way.length + SPARE) // 10_000)
    words = f"{centimeters / 100:g} m" if centimeters >= 100 else f"{centimeters} cm"
    return Fix(
        f"lay {local(piece)} {words} long, so that the whole train stands within the section",
        (set_word(piece.statement, told, words),), plain=False, changes=f"{local(piece)} is laid anew",
    )  # fmt: skip
