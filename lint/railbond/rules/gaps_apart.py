"""The two gaps of a reversing section's end, too far from opposite each other."""

from __future__ import annotations

from collections.abc import Iterator

from railbond.circuit.facts import Facts
from railbond.circuit.running import measure, micrometers
from railbond.findings import Fix, Found, Step
from railbond.layout.limits import limit
from railbond.layout.model import EndAt
from railbond.layout.template import OTHER_SIDE
from trackplan.amend import set_statement, set_word
from trackplan.edit import Edit
from trackplan.span import Span
from trackplan.statements import Gap
from trackplan.typed import TYPE_CHECKING

from .rule import Rule

if TYPE_CHECKING:
    from railbond.circuit.running.reversing import BoundaryCrossing, Sections, Through


def find(facts: Facts) -> Iterator[Found]:
    """One finding for each such end, where the plan has trains or engines."""
    reversers = any(one.kind == "reverser" for one in facts.layout.supplies.values())
    if not reversers or not (facts.layout.engines or facts.layout.trains):
        return
    from railbond.circuit.running.answers import running

    most = micrometers(limit(facts.layout, "gap-stagger") or 0.0)
    for sections in running(facts).sections.values():
        for way in sections.staggered:
            if way.length > most:
                yield _finding(facts, sections, way)


def _finding(facts: Facts, sections: Sections, way: Through) -> Found:
    one, other = sections.place(way.into), sections.place(way.out)
    first, second = _gap_at(facts, way.into), _gap_at(facts, way.out)
    fix = _opposite(facts, way.into, second)
    return Found(
        first,
        f"the {way.into.side} rail is cut for {sections.reverser} at {one}, but the {way.out.side} one at {other}, "
        f"{measure(way.length)} on (rails as seen going in): between the two they belong to different supplies.",
        (Step(first, "one rail is cut here"), Step(second, "the other is cut here")), "",
        (fix,) if fix else (), (sections.reverser, way.into.leg.piece, way.out.leg.piece),
    )  # fmt: skip


def _gap_at(facts: Facts, crossing: BoundaryCrossing) -> Span:
    """The line that cuts the rail at a crossing; the piece's own, where no line does."""
    gap = gap_of(facts, crossing)
    return gap.at if gap else facts.layout.pieces[crossing.leg.piece].statement.at


def gap_of(facts: Facts, crossing: BoundaryCrossing) -> Gap | None:
    """The gap statement that cuts the rail at a crossing."""
    from railbond.circuit.running.answers import running

    leg = crossing.leg
    if crossing.offset:
        along = crossing.offset if leg.enter == "start" else leg.length - crossing.offset
        seen = crossing.side if leg.enter == "start" else OTHER_SIDE[crossing.side]
        work = (one for one in facts.layout.pieces[leg.piece].work if isinstance(one, Gap))
        fits = (one for one in work if one.rail in (f"{seen} rail", "both rails"))
        return next((one for one in fits if abs(float(one.offset or 0) - along / 1e6) < 1e-6), None)
    here = EndAt(leg.piece, leg.enter)
    meeting = running(facts).track.meetings[here]
    side = OTHER_SIDE[crossing.side] if here == meeting.one else crossing.side
    return meeting.gaps.get(side)  # type: ignore[call-overload, no-any-return]


def _opposite(facts: Facts, crossing: BoundaryCrossing, second: Span) -> Fix | None:
    """Both rails cut where the first one is, and the other rail's own cut closed."""
    from railbond.circuit.running.answers import running
    from railbond.fixes.fix_edits import gap_edits, places_of
    from railbond.fixes.running_words import moved_gaps

    gap = next((one for one in facts.statements if isinstance(one, Gap) and one.at == second), None)
    meeting = running(facts).track.meetings.get(EndAt(crossing.leg.piece, crossing.leg.enter))
    if gap is None or gap.rail == "both rails":
        return None
    first = gap_of(facts, crossing)
    if crossing.offset and first:
        edits: tuple[Edit, ...] = (set_word(first, first.rail, "both rails"), set_statement(gap, ""))
        words = f"both rails of {first.place} at {first.offset.text if first.offset else ''}"
    elif meeting and not crossing.offset:
        cuts = gap_edits(facts, meeting, ("left", "right"))
        edits, words = moved_gaps([gap], cuts), places_of(cuts)
    else:
        return None
    return Fix(f"cut {words}, and close the gap that lies apart", edits)


_PLAN = """\
plan      "Balloon"
booster   B1    15 V  5 A
district  main  from B1  trips 4 A
reverser  R1    in main
segment   lead  stop -> T1.points           90 cm
turnout   T1    left  number 6  isolated-frog
segment   loop  T1.through -> T1.diverging  4 m
frog      T1  switched  from stock rails
{gaps}
feeder    main -> lead
feeder    R1 -> loop    at 2 m
train     longest  1.6 m
"""

RULE = Rule(
    name="gaps-apart",
    level="note",
    happens="short",
    turn=13,
    cause=False,
    find=find,
    when="there is a reverser",
    summary="The two gaps of a reversing section's end lie further apart than `limit gap-stagger` (10 mm unless said).",
    railroad=(
        "Between two staggered cuts one rail belongs to the reverser and the other to the fixed district. While the "
        "reverser stands the wrong way, both rails there carry the same leg: an engine with its pickups between the "
        "cuts stops, or buzzes until a wheel reaches the second cut and the reverser turns. A few millimeters do no "
        "harm and keep a joint from kinking."
    ),
    meter="With a rule along the track, from the cut of one rail to the cut of the other.",
    mend="Cut both rails opposite each other and close the cut that is left over with a joiner or solder.",
    fails=_PLAN.format(
        gaps="gap       T1.through              stock rail\n"
        "gap       loop          at 12 cm  left rail\n"
        "gap       T1.diverging            both rails"
    ),
    passes=_PLAN.format(
        gaps="gap       T1.through    stock rail\ngap       T1.through    frog rail\ngap       T1.diverging  both rails"
    ),
)
RULES = (RULE,)
