"""Track that turns back on itself with no reverser's section in between."""

from __future__ import annotations

from collections.abc import Collection, Iterator
from itertools import islice

from railbond.circuit.effort import is_scarce
from railbond.circuit.facts import Facts
from railbond.circuit.keeping import once
from railbond.circuit.signed_graph import Seam
from railbond.findings import Claim, Fix, Found, Step
from railbond.fixes.making_sections import listed, ways_to_make
from railbond.fixes.reversers import free_reverser
from railbond.fixes.section import Section
from railbond.fixes.sections import Turn, cost, is_marked, longest_train, turns
from trackplan.span import Span
from trackplan.statements import Couple, where

from .rule import Rule

MOST_OFFERED = 3
"""Sections offered for one turn."""

LEAST_ROOM = 0.5
"""Of a plan that names no train: a section that is shorter, in meters, is not the first, however few its edits."""

MOST_COMPARED = 4_000
"""Statements read to compare the sections of one turn: six of them in a plan of 600 lines."""


def find(facts: Facts) -> Iterator[Found]:
    """One finding for each reverser that the track needs, where it does best."""
    taken: tuple[str, ...] = ()
    for turn in turns(facts):
        if not is_coupled(facts, turn):
            yield finding(facts, turn, taken)
            taken += (free_reverser(facts, taken),)


def is_coupled(facts: Facts, turn: Turn) -> bool:
    """Whether only coupled endplates close the turn: then `meet-reverses` tells it."""
    couplings = _couplings(facts)
    return any(seam.meeting and seam.meeting.at in couplings for seam in turn.cycle)


@once
def _couplings(facts: Facts) -> frozenset[Span]:
    return frozenset(where(one) for one in facts.statements if isinstance(one, Couple))


def finding(facts: Facts, turn: Turn, taken: Collection[str] = ()) -> Found:
    """What is told of a turn; the reversers that are `taken` are for others."""
    pieces = list(dict.fromkeys(part[0] for seam in turn.cycle for part in (seam.one, seam.other)))
    turnouts = [name for name in pieces if facts.layout.pieces[name].template.positions]
    own = list(dict.fromkeys(part[0] for section in turn.sections[:1] for part in section.parts))
    return Found(
        facts.layout.pieces[(own or pieces)[0]].statement.at,
        f"the track turns back on itself through {listed(turnouts or pieces)}: its left rail becomes its right rail, "
        "so the two legs meet. It needs a section of its own on an auto-reverser.",
        tuple(_step(facts, seam) for seam in turn.cycle),
        "",
        tuple(_fixes(facts, turn, taken)),
        tuple(dict.fromkeys([*own, *pieces])),
        claims=(Claim("turns", tuple(pieces)),),
    )


def _step(facts: Facts, seam: Seam) -> Step:
    if seam.meeting is None:
        return Step(facts.layout.pieces[seam.one[0]].statement.at, f"{seam.one[0]} runs on past its cut")
    turn = ", and here left and right change names" if seam.turns else ""
    return Step(seam.meeting.at, f"{seam.meeting.one} meets {seam.meeting.other}{turn}")


def _fixes(facts: Facts, turn: Turn, taken: Collection[str]) -> list[Fix]:
    """The sections as fixes; of equally good ones those first that leave the fewest wires the wrong way round. Of the
    first it is told, too, how it is made otherwise."""
    tried = ((section, ways) for section in turn.sections if (ways := ways_to_make(facts, section, taken)))
    if is_scarce() or not 1 < len(turn.sections) <= MOST_COMPARED // len(facts.statements):
        return [fix for _, (fix, *_) in islice(tried, MOST_OFFERED if facts.with_fixes and not is_scarce() else 1)]
    room = 0.0 if longest_train(facts) else LEAST_ROOM
    compared: list[tuple[tuple[object, ...], list[Fix]]] = []
    for section, ways in tried:
        compared.append(((section.length < room, *_worth(facts, section, ways[0])), ways))
        if is_scarce():
            break
    ranked = [ways for _, ways in sorted(compared, key=lambda one: one[0])]
    first = [fix for ways in ranked[:1] for fix in ways]
    return [*first, *(fix for fix, *_ in ranked[1:])][: MOST_OFFERED + len(first[1:])]


def _worth(facts: Facts, section: Section, fix: Fix) -> tuple[object, ...]:
    """How good a section is beside others: the wires still to be swapped count, and where a gap marks it its edits."""
    is_bare = not any(is_marked(facts, seam) for seam in section.ends)
    tried = facts.tried(fix.edits)
    swaps = len(facts.statements if tried is None else tried.swaps)
    own = cost(facts, section)
    return own[0], is_bare, swaps + (0 if is_bare else len(fix.edits)), own


RULE = Rule(
    name="reversing-without-reverser",
    level="error",
    happens="short",
    turn=3,
    cause=True,
    find=find,
    when="track turns",
    of_graph="proof",
    summary="A loop or wye turns the track back on itself without a reverser's section.",
    railroad=(
        "Follow one rail round a balloon loop or through a wye and you come back on the other rail. Joined, the "
        "two legs are shorted; gapped once, the first train over the gap is the short."
    ),
    meter=(
        "With a finger or a crayon follow the left rail all the way round. Where you come back to your start on "
        "the right rail, the track turns. With the supply unplugged, rail to rail beeps."
    ),
    mend=(
        "Make the longest stretch between two turnouts of the loop a section of its own: both rails gapped at "
        "both ends, longer than the longest train, fed by an auto-reverser."
    ),
    fails="""\
plan     "Balloon at the quarry"
booster  B1    15 V  5 A
district main  from B1  trips 4 A
segment  lead  stop -> T1.points            90 cm
turnout  T1    left  number 6  dead-frog
segment  loop  T1.through -> T1.diverging   4 m
bond     T1    closure rails to stock rails
feeder   main -> lead
feeder   main -> loop
""",
    passes="""\
plan     "Balloon at the quarry"
booster  B1    15 V  5 A
district main  from B1  trips 4 A
reverser R1    in main
segment  lead  stop -> T1.points            90 cm
turnout  T1    left  number 6  dead-frog
segment  loop  T1.through -> T1.diverging   4 m
bond     T1    closure rails to stock rails
gap      T1.through    both rails
gap      T1.diverging  both rails
feeder   main -> lead
feeder   R1 -> loop
""",
)
RULES = (RULE,)
