"""Mends of faults of the plan as a plan, for those that the message itself cannot mend."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator

from railbond.circuit.facts import Facts
from railbond.findings import Fix
from railbond.fixes.fix_edits import taken_out
from railbond.layout.model import Fault
from trackplan.comments import without_comments
from trackplan.edit import replace
from trackplan.read import read
from trackplan.span import Source, Span
from trackplan.statements import Broken, Statement

MOST_FILLED = 20
"""Broken lines of a plan whose form is worked out."""
USUAL = (" m", " A", " V", " AWG", " degrees", " %")
"""Units tried for a number without one where the plan has none that fits."""

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
    """The line with a unit where a number has none; the one that the plan mostly uses comes first."""
    source = facts.sources[broken.at.path]
    number = source.text[broken.at.start : broken.at.end]
    if not re.fullmatch(r"[\d.]+", number):
        return
    line = source.line_of(broken.at.start)
    first, text = source.starts[line], source.line_text(line)
    used = Counter(_UNIT.findall(source.text))
    for unit in dict.fromkeys([*(unit for unit, _ in used.most_common()), *USUAL]):
        end = broken.at.end - first
        if not read(Source("", text[:end] + unit + text[end:])).broken:
            words = f"write `{number}{unit}`, if that is the unit"
            yield Fix(words, (replace(broken.at, number + unit),), plain=False, changes="the unit is a guess")


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
        name = facts.sources[fault.at.path].text[fault.at.start : fault.at.end]
        new = _free(facts, name)
        changes = f"lines that say `{name}` go on meaning the first one"
        yield Fix(f"call the second one `{new}`", (replace(fault.at, new),), plain=False, changes=changes)
    elif statement := _holding(facts, fault.at):
        changes = "what it asks for is missing from the plan then"
        yield Fix("take this line out", (taken_out(facts, statement),), plain=False, changes=changes)


def _free(facts: Facts, name: str) -> str:
    taken = {str(getattr(one, "name", "")) for one in facts.statements}
    return next(f"{name}{number}" for number in range(2, len(taken) + 3) if f"{name}{number}" not in taken)


def _holding(facts: Facts, at: Span) -> Statement | None:
    """The statement in which a place lies."""
    own = (one for one in facts.statements if one.at.path == at.path)
    return next((one for one in own if one.at.start <= at.start <= one.at.end), None)
