"""Words that have a newer one: they are still read, and the plan is told what to write."""

from __future__ import annotations

from collections.abc import Iterator

from railbond.circuit.facts import Facts
from railbond.findings import Fix, Found
from railbond.layout.accepted import FORMER_RULES
from trackplan.amend import set_word
from trackplan.statements import Accept, where

from .rule import Rule


def find(facts: Facts) -> Iterator[Found]:
    """Every word that is called otherwise now."""
    for one in facts.statements:
        if isinstance(one, Accept) and one.rule in FORMER_RULES:
            new = FORMER_RULES[one.rule]
            message = f"the rule {one.rule} is called {new} now; what is accepted here stays accepted."
            fix = Fix(f"write `{new}`", (set_word(one, one.rule, new),))
            yield Found(where(one, one.rule), message, fixes=(fix,))


_PLAN = """\
booster  B1    15 V  5 A
district main  from B1  trips 4 A
segment  line  stop -> stop  8 m
feeder   main -> line  at 1 m
feeder   main -> line  at 7 m
accept   {} at line because "its joiners are soldered"
"""

RULES = (
    Rule(
        name="outdated-word",
        level="note",
        happens="on paper",
        turn=0,
        cause=False,
        find=find,
        summary="A word of the plan language that has a newer one.",
        railroad="Nothing: the old word is read as the new one.",
        meter="No meter finds this: it is a word in the plan.",
        mend="Write the new word; the quick fix and `railbond mend` do.",
        fails=_PLAN.format("feeder-spacing"),
        passes=_PLAN.format("feeders-too-far-apart"),
    ),
)
