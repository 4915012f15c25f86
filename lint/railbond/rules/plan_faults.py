"""Faults of the plan as a plan: lines that do not read, names that do not fit, track that ends in the air."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator

from railbond.circuit.facts import Facts
from railbond.findings import VEILED, Fix, Found, Level
from trackplan.statements import Broken

from .plan_fixes import as_meant, filled_in, guessed_units, last_resorts
from .rule import Rule

MOST_GUESSED = 2
"""Units offered for a number without one."""

_HEAD = """\
booster  B1    15 V  5 A
district main  from B1  trips 4 A
"""


def find_syntax(facts: Facts) -> Iterator[Found]:
    """Every line that could not be read; the good lines are checked all the same."""
    for broken in facts.broken:
        fixes = [] if broken.message == VEILED else _reworded(facts, broken)
        yield Found(broken.at, broken.message, (), "", tuple(fixes) or (Fix("write what was expected", ()),), ())


def _reworded(facts: Facts, broken: Broken) -> list[Fix]:
    """The line as it may have been meant, else the form that its statement has."""
    fixes = [*as_meant(facts, broken)] or [*guessed_units(facts, broken)]
    return fixes[:MOST_GUESSED] or list(filled_in(facts, broken))


def _faults(name: str, mend: str) -> Callable[[Facts], Iterable[Found]]:
    """The layout's faults of one rule; `mend` is what to do where the fault itself does not know better."""

    def find(facts: Facts) -> Iterator[Found]:
        for fault in facts.layout.faults:
            if fault.rule == name:
                fix = Fix(fault.mend or mend[0].lower() + mend[1:].rstrip("."), fault.edits)
                fixes = (fix,) if fault.edits else (fix, *last_resorts(facts, fault))
                yield Found(fault.at, fault.message, fault.why, "", fixes, fault.names)

    return find


def _rule(name: str, summary: str, railroad: str, mend: str, fails: str, passes: str, level: Level = "error") -> Rule:
    find = find_syntax if name == "syntax" else _faults(name, mend)
    return Rule(
        name,
        level,
        "on paper",
        0,
        name == "unit-in-doubt",
        find,
        summary,
        railroad,
        "No meter finds this: it is a fault of the plan, not of the railroad. Compare the plan with the track.",
        mend,
        _HEAD + fails,
        _HEAD + passes,
        when="a line is broken" if name == "syntax" else "the layout has faults",
    )


_LINE = "segment  line  stop -> stop  1.5 m\nfeeder   main -> line\n"

RULES = (
    _rule(
        "syntax",
        "A line that cannot be read.",
        "The line counts for nothing: what it describes is missing from every proof.",
        "Write the line as the message says; every number needs its unit.",
        "segment  line  stop -> stop  1.5\nfeeder   main -> line\n",
        _LINE,
    ),
    _rule(
        "unknown-name",
        "A name that nothing in the plan bears.",
        "The wire or joint leads nowhere, so the proof leaves it out.",
        "Correct the name, or add the statement that is missing.",
        "segment  line  stop -> stop  1.5 m\nfeeder   main -> line\nfeeder   main -> lime\n",
        "segment  line  stop -> stop  1.5 m\nfeeder   main -> line\nfeeder   main -> line\n",
    ),
    _rule(
        "name-used-twice",
        "Two things of one name.",
        "Nobody can tell which is meant; the first one counts.",
        "Give one of the two another name.",
        _LINE + "segment  line  stop -> stop  2 m\n",
        _LINE + "segment  spur  stop -> stop  2 m\nfeeder   main -> spur\n",
    ),
    _rule(
        "loose-end",
        "An end of track that meets nothing.",
        "The plan does not say how the track goes on there, so nothing is proven beyond it.",
        "Join the end to its neighbor, end it with `stop`, or make it an endplate.",
        "segment  line  stop -> J  1.5 m\nfeeder   main -> line\n",
        _LINE,
    ),
    _rule(
        "impossible",
        "Something that metal cannot do.",
        "The plan asks for what cannot be built: power to a plastic frog, a gap where there is no rail, a place "
        "beyond the end of the track.",
        "Correct the place, or the kind of turnout.",
        _LINE + "gap      line at 2 m  left rail\n",
        "segment  line  stop -> stop  1.5 m\nfeeder   main -> line  at 20 cm\nfeeder   main -> line  at 1.2 m\n"
        "gap      line at 1 m  both rails\n",
    ),
    _rule(
        "unit-in-doubt",
        "A length that nobody builds, or a lamp that nobody hangs up: mostly another unit is meant.",
        "Drops, wires and stalls hang on lengths. All else is judged as if the likelier unit stood there; a limit that "
        "cannot be meant is not heeded.",
        "Write the unit that was meant.",
        "segment  line  stop -> stop  900 m\nfeeder   main -> line\n",
        "segment  line  stop -> stop  900 mm\nfeeder   main -> line\n",
        "warning",
    ),
)
