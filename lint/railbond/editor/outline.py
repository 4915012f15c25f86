"""The outline of a document: its names, its groups of lines to fold, and its layout."""

from __future__ import annotations

from collections.abc import Iterator

from lsprotocol.types import (
    DocumentFormattingParams,
    DocumentSymbol,
    DocumentSymbolParams,
    FoldingRange,
    FoldingRangeKind,
    FoldingRangeParams,
    SymbolKind,
    TextEdit,
)

from trackplan.edit import begins_statement
from trackplan.span import Source, Word
from trackplan.statements import Bus, Statement, where
from trackplan.tidy import TidyError, tidy

from .changes import line_edits
from .names import DEFINING, words
from .view import View

KINDS = {
    "Booster": SymbolKind.Event,
    "District": SymbolKind.Package,
    "Block": SymbolKind.Package,
    "Reverser": SymbolKind.Package,
    "Bus": SymbolKind.Interface,
    "Segment": SymbolKind.Field,
    "Turnout": SymbolKind.Class,
    "Endplate": SymbolKind.Interface,
    "Module": SymbolKind.Module,
    "Plan": SymbolKind.File,
}


def symbols(view: View, params: DocumentSymbolParams) -> list[DocumentSymbol]:
    """Everything that the document gives a name to, in its order."""
    source = view.source
    statements = view.plan.gathered.readings[view.path].statements
    return [_symbol(view, source, one, name) for one in statements if (name := name_of(one))]


def name_of(statement: Statement) -> Word | None:
    """What a statement gives a name to, or the plan's title."""
    title = getattr(statement, "title", None)
    return title or next((word for role, word in words(statement) if role in DEFINING), None)


def _symbol(view: View, source: Source, statement: Statement, name: Word) -> DocumentSymbol:
    kind = type(statement).__name__
    return DocumentSymbol(
        str(name),
        KINDS.get(kind, SymbolKind.Variable),
        view.places.span(source, statement.at),
        view.places.span(source, where(statement, name)),
        detail="terminal" if isinstance(statement, Bus) else kind.lower(),
    )


def folding(view: View, params: FoldingRangeParams) -> list[FoldingRange]:
    """A group: a heading comment with the lines below it, up to the next blank line; and a statement that runs on."""
    source = view.source
    lines = [text for text, _ in source.lines()]
    return [*_groups(lines), *_long_statements(source, lines)]


def _groups(lines: list[str]) -> Iterator[FoldingRange]:
    first = None
    for line, text in enumerate([*lines, ""]):
        if text.strip():
            first = line if first is None else first
            continue
        if first is not None and line - 1 > first:
            only_comments = all(one.lstrip().startswith("#") for one in lines[first:line])
            kind = FoldingRangeKind.Comment if only_comments else FoldingRangeKind.Region
            yield FoldingRange(first, line - 1, kind=kind)
        first = None


def _long_statements(source: Source, lines: list[str]) -> Iterator[FoldingRange]:
    first = 0
    for line in range(1, len(lines) + 1):
        goes_on = line < len(lines) and lines[line][:1].isspace() and lines[line].strip()
        if not goes_on:
            if line - 1 > first and begins_statement(source, first):
                yield FoldingRange(first, line - 1)
            first = line


def formatting(view: View, params: DocumentFormattingParams) -> list[TextEdit]:
    """The document laid out in columns; nothing where that would change what it says."""
    source = view.source
    try:
        return line_edits(view, source, tidy(source))
    except TidyError:
        return []
