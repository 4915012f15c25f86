"""An edge of a module that is coupled with two others, or with itself."""

from __future__ import annotations

from collections.abc import Iterator

from railbond.circuit.facts import Facts
from railbond.findings import Fix, Found

from .plan_fixes import last_resorts
from .rule import Rule


def find(facts: Facts) -> Iterator[Found]:
    """Every coupling of an edge that is taken."""
    for fault in facts.layout.faults:
        if fault.rule == RULE.name:
            meant = (Fix(fault.mend, fault.edits),) if fault.edits else ()
            fixes = (*meant, *last_resorts(facts, fault))
            yield Found(fault.at, fault.message, fault.why, "", fixes, fault.names)


_HEAD = """\
plan     "Two towns"
booster  B1    15 V  5 A
district main  from B1  trips 4 A
segment  mill  mill-w -> mill-e  1 m
segment  town  town-w -> town-e  1 m
endplate mill-w
endplate mill-e
endplate town-w
endplate town-e
feeder   main -> mill
feeder   main -> town
"""

RULE = Rule(
    name="coupled-twice",
    level="error",
    happens="on paper",
    turn=0,
    cause=False,
    find=find,
    when="the layout has faults",
    summary="A module's edge that is coupled with two others, or with itself.",
    railroad="Three edges cannot stand at one place; which two meet on the day nobody can tell.",
    meter="No meter finds this: it is a fault of the meet's plan.",
    mend="Name the right endplate, or take one of the two lines out.",
    fails=_HEAD + "couple   mill-e -> town-w\ncouple   mill-e -> town-e\n",
    passes=_HEAD + "couple   mill-e -> town-w\n",
)
RULES = (RULE,)
