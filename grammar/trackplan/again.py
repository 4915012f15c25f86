"""Statements of a plan that was revised before and is revised again: what no new edit touches is there as it was."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from itertools import takewhile

from .amend import parts_of
from .edit import Edit, revise
from .quantities import Quantity
from .span import Source, Span, Word
from .statements import Statement

Places = list[tuple[int, int, tuple[tuple[int, int], ...]]]


def revised_again(
    read: Iterable[Statement],
    edits: Iterable[Edit],
    sources: Mapping[str, Source],
    before: Sequence[Statement] | None,
    begins: Sequence[int],
) -> list[Statement]:
    """Statements as they are after all edits (see `revise`), and those `before` the last of these, if it is not the
    first, as that very object."""
    new = revise(read, edits, sources, begins)
    return new if before is None else as_before(before, new)


def as_before(old: Sequence[Statement], new: Sequence[Statement]) -> list[Statement]:
    """The new statements, each that says at its place what an old one says as that very object; and those that were
    added before in the order in which they were, before whatever is added now. So what differs is told at a glance."""
    is_old = set(map(id, old))
    gone = is_old.difference(map(id, new))
    known: dict[Span, list[Statement]] = {}
    for one in (one for one in old if id(one) in gone):
        known.setdefault(one.at, []).append(one)
    again = [one if id(one) in is_old or one.at not in known else _taken(one, known[one.at]) for one in new]
    lines, added = _parted(again)
    place = {id(one): number for number, one in enumerate(_parted(old)[1])}
    return [*lines, *sorted(added, key=lambda one: place.get(id(one), len(place)))]


def _parted(statements: Sequence[Statement]) -> tuple[Sequence[Statement], Sequence[Statement]]:
    """Those that stand in the text, and behind them all that were added."""
    first = len(statements) - sum(1 for _ in takewhile(_is_added, reversed(statements)))
    return statements[:first], statements[first:]


def _is_added(one: Statement) -> bool:
    return one.at.start == one.at.end


def _taken(one: Statement, known: list[Statement]) -> Statement:
    """That of the known ones which is the same, taken out; itself where there is none."""
    for place, other in enumerate(known):
        if type(other) is type(one) and other == one and _places(other) == _places(one):
            return known.pop(place)
    return one


def _places(statement: Statement) -> Places:
    """Where its words and quantities stand."""
    parts: list[Word | Quantity] = list(parts_of(tuple(statement[1:])))
    return [(part.start, part.end, tuple((word.start, word.end) for word in part.lead)) for part in parts]
