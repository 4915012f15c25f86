"""Changes of one statement as edits: set a word, add a clause, drop a clause, take the statement out.

Whoever mends a plan says what is to change in a statement, by its parts; where that lies in the text is known here
alone. A *clause* is a part with the keywords that lead up to it, such as `split at 90 degrees`. Of a line that an edit
adds there is `edit.add_line`.
"""

from __future__ import annotations

from collections.abc import Iterator

from .edit import PARTS, Edit, replace
from .quantities import Quantity
from .span import Source, Span, Word
from .statements import Statement, where
from .typed import Any

Part = Word | Quantity
BLANKS = " \t"


def set_word(statement: Statement, part: Part, text: str) -> Edit:
    """Puts other words in the place of a part."""
    return replace(where(statement, part), text)


def set_statement(statement: Statement, text: str) -> Edit:
    """Puts another statement in the place of this one."""
    return replace(statement.at, text)


def add_clause(statement: Statement, field: str, text: str) -> Edit:
    """Adds a part that the statement leaves out, with its keywords, where the language wants it."""
    parts = [part for name in _before(statement, field) for part in parts_of(getattr(statement, name))]
    end = max((part.end for part in parts), default=statement.at.end - statement.at.start)
    at = statement.at.start + end
    return replace(Span(statement.at.path, at, at), f" {text}")


def drop_clause(source: Source, statement: Statement, value: object, opens: str = "") -> Edit:
    """Takes a part away with the blanks before it, and the keywords that lead up to it from `opens` on."""
    parts = list(parts_of(value))
    start = next((word.start for word in parts[0].lead if word == opens), parts[0].start)
    first, last = statement.at.start + start, statement.at.start + parts[-1].end
    while first > statement.at.start and source.part(first - 1, first) in BLANKS:
        first -= 1
    return replace(Span(statement.at.path, first, last), "")


def take_out(source: Source, statement: Statement) -> Edit:
    """Takes a statement out, with its line where it stands there alone."""
    at = statement.at
    first, last = source.line_of(at.start), source.line_of(at.end)
    if last + 1 == len(source.starts):
        return replace(at, "")
    whole = Span(at.path, source.starts[first], source.starts[last + 1])
    alone = not (source.part(whole.start, at.start) + source.part(at.end, whole.end)).strip()
    return replace(whole if alone else at, "")


def parts_of(value: object) -> Iterator[Part]:
    """The words and quantities of a field, one after the other."""
    if isinstance(value, PARTS):
        yield value
    elif isinstance(value, tuple):
        for one in value:
            yield from parts_of(one)


def _before(statement: Any, field: str) -> tuple[str, ...]:
    """The fields that stand before one: a statement's parts stand in the order of its fields."""
    names: tuple[str, ...] = statement._fields
    return names[1 : names.index(field)]
