"""Words that have a newer one: they are still read, and the plan is told what to write."""

from __future__ import annotations

from collections.abc import Iterator

from railbond.circuit.facts import Facts
from railbond.findings import Fix, Found
from railbond.layout.accepted import FORMER_RULES
from trackplan.amend import parts_of, set_word
from trackplan.former import FORMER
from trackplan.span import Word
from trackplan.statements import Accept, Solder, Statement, where

from .rule import Rule


def find(facts: Facts) -> Iterator[Found]:
    """Every word that is called otherwise now."""
    old = any(word in source.typed for source in facts.sources.values() for word in FORMER)
    for one in facts.statements:
        if isinstance(one, Accept) and one.rule in FORMER_RULES:
            new = FORMER_RULES[one.rule]
            message = f"the rule {one.rule} is called {new} now; what is accepted here stays accepted."
            yield _found(one, one.rule, message, new)
        elif isinstance(one, Solder) and len(one.place.lead) == 1:
            message = f"joiners are soldered, not {one.place} itself: write `solder joiners at {one.place}`."
            yield _found(one, one.place, message, f"joiners at {one.place}")
        elif old:
            for word in (word for part in parts_of(one[1:]) for word in part.lead if word in FORMER):
                yield _found(one, word, f"`{word}` is called `{FORMER[word]}` now.", FORMER[word])


def _found(one: Statement, word: Word, message: str, new: str) -> Found:
    return Found(where(one, word), message, fixes=(Fix(f"write `{new}`", (set_word(one, word, new),)),))


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
        when="a word may have a newer one",
        summary="A word of the plan language that has a newer one.",
        railroad="Nothing: the old word is read as the new one.",
        meter="No meter finds this: it is a word in the plan.",
        mend="Write the new word; the quick fix and `railbond mend` do.",
        fails=_PLAN.format("feeder-spacing"),
        passes=_PLAN.format("feeders-too-far-apart"),
    ),
)
