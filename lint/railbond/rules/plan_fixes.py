"""Mends of faults of the plan as a plan, for those that the message itself cannot mend."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator, Sequence
from math import log

from railbond.circuit.by_kind import holding
from railbond.circuit.facts import Facts
from railbond.findings import Fix
from railbond.fixes.fix_edits import taken_out
from railbond.layout.model import Fault
from trackplan.comments import without_comments
from trackplan.edit import replace
from trackplan.parse import reads
from trackplan.quantities import Quantity
from trackplan.read import read
from trackplan.span import Source, Span
from trackplan.statements import Broken, Statement

MOST_FILLED = 20
"""Broken lines of a plan whose form is worked out."""
USUAL = (" m", " A", " V", " AWG", " degrees", " %")
"""Units tried for a number without one where the plan has none that fits."""

LIKE_OTHERS = log(1.7)
"""How much larger or smaller a number may be than another one to be like it."""
UNLIKE = log(1000)

_UNIT = re.compile(r"(?<=\d) ?(?:mm2|mm|cm|km|m|ft|in|AWG|mA|A|V|ohm|degrees|%|s)\b")


def as_meant(facts: Facts, broken: Broken) -> Iterator[Fix]:
    """The line as it was meant, where that is clear and reads; told as the whole line, as that is what one types."""
    if broken.meant is None:
        return
    source = facts.sources[broken.at.path]
    line = source.line_of(broken.at.start)
    start, text = source.starts[line], source.line_text(line)
    edits = (replace(broken.at, broken.meant),)
    if text[:1].isspace() or source.line_text(line + 1)[:1].isspace() or broken.at.end > start + len(text):
        yield Fix(f"write `{broken.meant}`", edits)  # one of several lines
        return
    now = text[: broken.at.start - start] + broken.meant + text[broken.at.end - start :]
    if not read(Source("", now)).broken:
        yield Fix(f"write `{without_comments(now).strip()}`", edits)


def guessed_units(facts: Facts, broken: Broken) -> Iterator[Fix]:
    """The line with a unit where a number has none, or one of another kind of quantity: first the unit that makes it
    most like the same number in other lines, which is plain where such lines are many and it is like them."""
    source = facts.sources[broken.at.path]
    typed = re.fullmatch(r"([\d.]+) ?([A-Za-z]*)", source.part(broken.at.start, broken.at.end))
    if not typed:
        return
    number, wrong = typed.groups()
    nth = source.line_of(broken.at.start)
    first, text = source.starts[nth], source.line_text(nth)
    used = Counter(_UNIT.findall(source.typed))
    meant: list[tuple[float, str]] = []
    for unit in dict.fromkeys([*(unit for unit, _ in used.most_common()), *USUAL]):
        new = f"{number} {unit.strip()}" if wrong else number + unit
        start, end = broken.at.start - first, broken.at.end - first
        line = text[:start] + new + text[end:]
        reading = read(Source("", line)) if unit.strip() != wrong and reads(without_comments(line)) else None
        if reading and not reading.broken and (not wrong or reading.statements):
            meant.append((_unlike(facts, reading.statements, start), new))
    meant.sort(key=lambda one: one[0])
    for place, (unlike, new) in enumerate(meant):
        words, edits = f"write `{new}`, if that is the unit", (replace(broken.at, new),)
        only = bool(wrong) and len(meant) == 1
        sure = place == 0 and (only or unlike <= LIKE_OTHERS) and all(other > unlike for other, _ in meant[1:])
        yield Fix(words, edits) if sure else Fix(words, edits, plain=False, changes="the unit is a guess")


def _unlike(facts: Facts, statements: Sequence[Statement], start: int) -> float:
    """How many times larger or smaller, as a logarithm, a number is than the nearest one in the same place of other
    lines of its kind; a number that such lines do not have is unlike any."""
    for statement in statements:
        for field, part in zip(statement._fields, statement, strict=True):
            if isinstance(part, Quantity) and part.start == start - statement.at.start and part > 0:
                others = (getattr(one, field) for one in facts.statements if isinstance(one, type(statement)))
                sizes = [float(one) for one in others if isinstance(one, type(part)) and one > 0]
                return min((abs(log(part / size)) for size in sizes), default=UNLIKE)
    return UNLIKE


def filled_in(facts: Facts, broken: Broken) -> Iterator[Fix]:
    """The line in the form that its statement has, with the user's own words where they fit. It is worked out for the
    first lines only: whoever has more of them wants to mend those first."""
    if broken not in facts.broken[:MOST_FILLED]:
        return
    from trackplan.mistakes.filled import filled_in

    source = facts.sources[broken.at.path]
    line = source.line_of(broken.at.start)
    text, after = source.line_text(line), source.line_text(line + 1)
    form = filled_in(text) if text[:1].strip() and not after[:1].isspace() else None
    if form:
        start = source.starts[line]
        edit = replace(Span(source.path, start, start + len(without_comments(text))), form)
        words = f"write it in this form, with your own words: `{form}`"
        yield Fix(words, (edit,), plain=False, changes="what you have not said is an example")


def last_resorts(facts: Facts, fault: Fault) -> Iterator[Fix]:
    """Another name for what bears one that is taken; for any other line that cannot be as it is, to take it out."""
    if fault.rule == "name-used-twice":
        if (twice := holding(facts, fault.at)) and any(_says_the_same(one, twice) for one in facts.statements):
            yield Fix("take this line out: another one says the same", (taken_out(facts, twice),))
        name = facts.sources[fault.at.path].part(fault.at.start, fault.at.end)
        new = _free(facts, name)
        changes = f"lines that say `{name}` go on meaning the first one"
        yield Fix(f"call the second one `{new}`", (replace(fault.at, new),), plain=False, changes=changes)
    elif statement := holding(facts, fault.at):
        changes = "what it asks for is missing from the plan then"
        yield Fix("take this line out", (taken_out(facts, statement),), plain=False, changes=changes)


def _says_the_same(one: Statement, other: Statement) -> bool:
    """Whether two lines say the same, word for word."""
    return type(one) is type(other) and one.at != other.at and tuple(one[1:]) == tuple(other[1:])


def _free(facts: Facts, name: str) -> str:
    taken = {str(getattr(one, "name", "")) for one in facts.statements}
    return next(f"{name}{number}" for number in range(2, len(taken) + 3) if f"{name}{number}" not in taken)
