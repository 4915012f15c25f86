"""Modules that together close a loop which turns the track back on itself, and which none of them has alone."""

from __future__ import annotations

from collections.abc import Iterator

from railbond.circuit.facts import Facts
from railbond.findings import Fix, Found
from railbond.fixes.sections import Turn, turns
from trackplan.amend import set_statement
from trackplan.statements import Couple, Gap

from .reversing_without_reverser import finding, is_coupled
from .rule import Rule


def find(facts: Facts) -> Iterator[Found]:
    """One finding for each turn that only couplings close, at the last of them."""
    couples = {one.at: one for one in facts.statements if isinstance(one, Couple)}
    for turn in turns(facts):
        if is_coupled(facts, turn):
            passed = {seam.meeting.at for seam in turn.cycle if seam.meeting}
            closing = [couple for at, couple in sorted(couples.items()) if at in passed]
            yield _finding(facts, _told(facts, turn), closing)


def _told(facts: Facts, turn: Turn) -> Found:
    """The turn as it is told of one plan. A section over several modules can ask for a reverser by a name that only one
    of them knows: such a plan cannot be tried, and the turn is then told without sections."""
    try:
        return finding(facts, turn)
    except KeyError:
        return finding(facts, turn._replace(sections=[]))


def _finding(facts: Facts, found: Found, closing: list[Couple]) -> Found:
    """Couplings are told in the order in which the meet is put together."""
    edges = ", ".join(f"{one.one} -> {one.other}" for one in closing)
    last = closing[-1]
    return found._replace(
        at=last.at,
        message=(
            f"coupled as they are ({edges}), modules of which none does so alone turn the track back on itself: its "
            "left rail becomes its right rail, and the two legs meet. It needs a section on an auto-reverser."
        ),
        fixes=(*(fix for fix in found.fixes if _fits(facts, fix)), _left_open(facts, last)),
        names=(str(last.one), str(last.other), *found.names),
    )


def _fits(facts: Facts, fix: Fix) -> bool:
    """Whether a fix speaks of one file only, in which all that it names is known, leaves less that turns, and leaves
    no wire of another module the wrong way round."""
    tried = facts.tried(fix.edits)
    if tried is None:
        return False
    alone = len({edit.at.path for edit in fix.edits}) == 1
    fewer = len(turns(tried)) < len(turns(facts))
    sound = len(tried.layout.faults) <= len(facts.layout.faults)
    return alone and fewer and sound and not tried.swaps


def _left_open(facts: Facts, couple: Couple) -> Fix:
    edges = (couple.one, couple.other)
    gaps = [one for one in facts.statements if isinstance(one, Gap) and one.place in edges]
    return Fix(
        f"leave {couple.one} and {couple.other} uncoupled: end the track there, or lead it elsewhere",
        (set_statement(couple, ""), *(set_statement(one, "") for one in gaps)),
        plain=False,
        changes="trains no longer run through there",
    )


_HEAD = """\
plan     "Junction that meets itself"
booster  B1    15 V  5 A
district main  from B1  trips 4 A
segment  lead  stop -> T1.points  90 cm
turnout  T1    left  number 6  dead-frog
bond     T1    closure rails to stock rails
segment  one   T1.through -> E1  2 m
segment  two   E2 -> T1.diverging  2 m
endplate E1
endplate E2
feeder   main -> lead
"""

RULE = Rule(
    name="meet-reverses",
    level="error",
    happens="short",
    turn=3,
    cause=True,
    find=find,
    when="track turns",
    of_graph="proof",
    summary="Modules that together turn the track back on itself without a reverser's section.",
    railroad=(
        "Every module runs at home. At the meet the last joint closes a loop that leads a train back the other way, "
        "and with it the left rail into the right one: the breaker trips when the last two modules are pushed together."
    ),
    meter=(
        "Before the last joint is closed, power on: a voltmeter from rail to rail across the joint, along one side. "
        "Track voltage there says that the legs are opposed."
    ),
    mend=(
        "Let a module that has a reverser close the loop: both rails gapped at both ends of a stretch longer than the "
        "longest train. Or leave the joint open."
    ),
    fails=_HEAD + "feeder   main -> one\nfeeder   main -> two\ncouple   E1 -> E2\n",
    passes=_HEAD
    + "reverser R1    in main\nfeeder   R1 -> one\nfeeder   R1 -> two\n"
    + "gap      T1.through    both rails\ngap      T1.diverging  both rails\ncouple   E1 -> E2\n",
)
RULES = (RULE,)
