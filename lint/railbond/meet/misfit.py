"""Two edges that do not fit as they are coupled, though each module is right at home.

One module is turned, is coupled by its other end, or gets a crossed plug: told at the line that couples them, to both
owners.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from railbond.explaining.slip import HandSlip
from railbond.findings import LEVELS, Finding, Fix
from trackplan.statements import Couple

from .meet_facts import MeetFacts

DO_NOT_FIT = "do not fit as they are coupled"

SHORT = "legs-joined"


def is_between(couple: Couple, finding: Finding) -> bool:
    """Whether a finding is that the two edges of a coupling do not fit."""
    return finding.message.startswith(f"{couple.one} and {couple.other} {DO_NOT_FIT}")


def is_of_a_couple(whole: MeetFacts, slip: HandSlip) -> bool:
    """Whether a slip was made in a line that couples two edges."""
    return any(isinstance(one, Couple) and one.at == slip.at for one in whole.statements)


def misfit(whole: MeetFacts, couple: Couple, gone: Sequence[Finding], cured: Sequence[HandSlip]) -> Finding:
    """One finding for all that goes away with a coupling put right, by any of the slips that are `cured`."""
    main = max(gone, key=lambda one: (LEVELS.index(one.level), one.rule == SHORT))
    others = tuple(one._replace(fixes=(), why=()) for one in gone if one is not main)
    return main._replace(
        at=couple.at,
        message=f"{_disagree(whole, couple)} So {_effect(main)}",
        fixes=tuple(_ways_out(whole, cured, couple)),
        names=tuple(dict.fromkeys((str(couple.one), str(couple.other), *main.names))),
        also=tuple(one for one in others if one.rule != SHORT),
    )


def _effect(main: Finding) -> str:
    """What happens, without a word about wires: none of a module's is wrong."""
    if main.rule != SHORT:
        return main.message
    return "the two legs meet in both rails, and the supply is shorted with no train on the track."


def _disagree(whole: MeetFacts, couple: Couple) -> str:
    """What is wrong between the two edges, in words."""
    edges = [whole.layout.edges.get(str(name)) for name in (couple.one, couple.other)]
    legs = {str(edge.statement.left) for edge in edges if edge and edge.statement.left is not None}
    both = f"looking out of either, the left rail carries {legs.pop()}" if len(legs) == 1 else "left meets right"
    return f"{couple.one} and {couple.other} {DO_NOT_FIT}, though each module is right at home: {both}."


def _ways_out(whole: MeetFacts, cured: Sequence[HandSlip], couple: Couple) -> Iterator[Fix]:
    """The module turned, or coupled by its other end, whichever cures; and a crossed plug."""
    yield from (Fix(slip.words, slip.edits, proven="alone") for slip in cured if slip.at == couple.at)
    plugs = [slip for slip in cured if not is_of_a_couple(whole, slip)]
    for slip in plugs:
        yield Fix(f"use a crossed plug: {slip.words}", slip.edits, proven="alone")
    if not plugs:
        other = str(couple.other).rpartition(".")[0]
        yield Fix(f"use a crossed plug: swap the two wires where {other} gets its power on the day, outside of it", ())
