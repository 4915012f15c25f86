"""What stands in for lines that could not be read, so that what only follows from these is not told.

A bus run whose size is no size leaves its terminal without power, and a drop with its parts out of order leaves its
rails dead: true of the lines that were read, and worth nothing to who wrote the other. A line is taken as it was most
likely meant; else without what nobody can read in it.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from railbond.circuit.facts import Facts
from railbond.findings import VEILED, Finding
from trackplan.edit import added, whole_statements
from trackplan.parse import END, tokens
from trackplan.read import read_line
from trackplan.record import NamedTuple
from trackplan.span import Span
from trackplan.statements import Broken, Statement

MOST_LINES = 1_000
"""Statements of a plan in which lines stand in for others: it takes another inspection."""

LONGEST = 400
"""Characters of a line for which one stands in."""

MOST_FAULTS = 3
"""Faults that are put right in one line."""


class StandIn(NamedTuple):
    """A statement for a line that could not be read; `meant` where that line reads once it is typed as is offered."""

    broken: Broken
    statement: Statement
    meant: bool


def stand_ins(facts: Facts) -> list[StandIn]:
    """A statement for each line of which it can be told what it is about. No edit can change them."""
    if len(facts.statements) > MOST_LINES:
        return []
    lines = dict[Span, StandIn]()
    for broken in facts.broken:
        if broken.message != VEILED and broken.at.path in facts.sources:
            for at, found in _stands_in(facts, broken):
                lines.setdefault(at, found)
    return list(lines.values())


def as_meant(facts: Facts, found: Iterable[StandIn]) -> Facts:
    """The facts of the plan with statements in the place of lines that could not be read."""
    found = list(found)
    read = {one.broken for one in found}
    left = [one for one in facts.broken if one not in read]
    return facts.with_more((one.statement for one in found), left)


def with_what_follows(syntax: Finding, found: Sequence[StandIn], then: Sequence[Finding]) -> Finding:
    """What is told of a line that could not be read; what is only found once it reads is told with its mend."""
    if not then or not any(one.meant and one.broken.at == syntax.at for one in found):
        return syntax
    first, *others = syntax.fixes
    more = tuple(dict.fromkeys(f"{one.message} (rule {one.rule})" for one in then))
    return syntax._replace(fixes=(first._replace(then=(*first.then, *more)), *others))


def _stands_in(facts: Facts, broken: Broken) -> Iterator[tuple[Span, StandIn]]:
    """The statement, with where its line begins and ends."""
    source, path = facts.sources[broken.at.path], broken.at.path
    start, end = whole_statements(source, broken.at.start, broken.at.end)
    text = source.part(start, end).rstrip()
    if not 0 < len(text) <= LONGEST:
        return
    fault = broken._replace(at=Span("", broken.at.start - start, broken.at.end - start))
    for line, meant in _lines(text, fault):
        read = read_line(line)
        if read is not None and not isinstance(read, Broken):
            yield Span(path, start, end), StandIn(broken, added(read, Span(path, start, start)), meant)
            return


def _lines(line: str, fault: Broken) -> Iterator[tuple[str, bool]]:
    """What a line may be read as, and whether that is what is offered: as it was meant, where that is known of all its
    faults; without the word at the fault; without all from the fault on."""
    for faults in range(MOST_FAULTS):
        if fault.meant is None:
            break
        line = f"{line[: fault.at.start]}{fault.meant}{line[fault.at.end :]}"
        yield line, not faults
        again = read_line(line)
        if not isinstance(again, Broken):
            return
        fault = again
    yield from ((one, False) for one in _left_out(line, fault.at.start, fault.at.end))


def _left_out(line: str, first: int, last: int) -> Iterator[str]:
    """A line without what cannot be read, and without what stands behind it, as far as its first two words are left."""
    begins = [one.start for one in tokens(line) if one.kind != END]
    if len(begins) > 2 and first > begins[1]:
        yield f"{line[:first]}{line[last:]}"
        yield from (line[:here] for here in (first, *reversed(begins[2:])) if here <= first)
