"""Modules that together close a loop which turns the track back on itself, and which none of them has alone."""

from __future__ import annotations

from collections.abc import Iterator

from railbond.circuit.facts import Facts
from railbond.findings import Finding
from trackplan.statements import Couple

from .reversing_without_reverser import finding, is_coupled
from .rule import Rule
from .sections import turns


def find(facts: Facts) -> Iterator[Finding]:
    """One finding for each turn that only couplings close."""
    for turn in turns(facts):
        if is_coupled(facts, turn):
            found = finding(facts, turn)
            couples = {one.at for one in facts.statements if isinstance(one, Couple)}
            edges = [seam.meeting for seam in turn.cycle if seam.meeting and seam.meeting.at in couples]
            where = " and ".join(f"{one.one.piece} with {one.other.piece}" for one in edges)
            message = (
                f"the track turns back on itself once {where} are coupled, though none of the modules does so alone: "
                "its left rail becomes its right rail, and the two legs meet. It needs a section of its own on an "
                "auto-reverser."
            )
            yield found._replace(rule=RULE.name, message=message)


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
