"""A number behind `#`, as catalogs write it: to a plan it is a comment, and the number is not read."""

from __future__ import annotations

import re
from collections.abc import Iterator

from railbond.circuit.facts import Facts
from railbond.findings import Fix, Found
from trackplan.amend import add_clause
from trackplan.span import Source, Span
from trackplan.statements import Statement

from .rule import Rule

MEANT = {"number": "number {}", "size": "{} AWG"}
"""What is meant by `#6`, by the part that the statement leaves out."""
_MARK = re.compile(r"#(\d{1,2}(?:\.5)?)\s*$")
"""Nothing but a number: `#2 of two` is a remark."""


def find(facts: Facts) -> Iterator[Found]:
    """Every statement without its number or size, with that behind `#` at its line's end."""
    marked = {path for path, source in facts.sources.items() if re.search(r"#\d", source.typed)}
    for one in facts.statements:
        part = next((name for name in MEANT if getattr(one, name, "") is None), None)
        if part and one.at.path in marked:
            yield from _found(facts.sources[one.at.path], one, part)


def _found(source: Source, one: Statement, part: str) -> Iterator[Found]:
    line = source.line_of(max(one.at.end - 1, one.at.start))
    mark = _MARK.search(source.line_text(line))
    if mark is None or source.starts[line] + mark.start() < one.at.end - len(mark[0]):
        return
    start, meant = source.starts[line] + mark.start(), MEANT[part].format(mark[1])
    at = Span(one.at.path, start, start + len(mark[0].rstrip()))
    message = f"`#` starts a comment, so `{mark[0].strip()}` was not read: write `{meant}`."
    fix = Fix(f"write `{meant}`", (add_clause(one, part, meant),))
    names = (getattr(one, field, None) for field in ("name", "rail", "terminal"))
    yield Found(at, message, fixes=(fix,), names=tuple(str(word).split(".")[0] for word in names if word))


_PLAN = """\
booster  B1    15 V  5 A
district main  from B1  trips 4 A
segment  lead  stop -> T1.points      90 cm
turnout  T1    left  {}
segment  line  T1.through -> stop     90 cm
segment  mill  T1.diverging -> stop   90 cm
feeder   main -> lead
feeder   main -> line
feeder   main -> mill
"""

RULES = (
    Rule(
        name="number-in-comment",
        level="warning",
        happens="on paper",
        turn=0,
        cause=False,
        find=find,
        when="a comment is a number",
        summary="A frog number or wire size behind `#`, which makes it a comment.",
        railroad="Nothing: but how long the frog is, or what the wire carries, is taken from elsewhere or not known.",
        meter="No meter finds this: it is a word in the plan.",
        mend="Write `number 6` for the number of a frog, and `14 AWG` for the size of a wire.",
        fails=_PLAN.format("dead-frog #6"),
        passes=_PLAN.format("number 6  dead-frog"),
    ),
)
