"""Semantic tokens: what each word of a document is."""

from __future__ import annotations

from collections.abc import Iterator
from functools import lru_cache
from typing import NamedTuple

from lsprotocol.types import SemanticTokens, SemanticTokensLegend, SemanticTokensParams, SemanticTokensRangeParams

from trackplan.parse import tokens as words_of
from trackplan.quantities import MEASURES
from trackplan.read import LONGEST_LINE, QUOTED_OR_COMMENT, logical_lines, read_line, without_comments
from trackplan.span import Source, units
from trackplan.statements import Broken
from trackplan.tables import KEYWORDS

from .names import DEFINING, words
from .view import View

TYPES = ("keyword", "variable", "string", "number", "operator", "comment")
KEYWORD, NAME, TEXT, NUMBER, ARROW, COMMENT = range(len(TYPES))
LEGEND = SemanticTokensLegend(list(TYPES), ["declaration"])
DECLARATION = 1
KINDS = {"WORD": NAME, "TEXT": TEXT, "->": ARROW, **dict.fromkeys(MEASURES, NUMBER)}


class Mark(NamedTuple):
    start: int
    end: int
    type: int
    modifiers: int = 0


def tokens(view: View, params: SemanticTokensParams) -> SemanticTokens:
    """Every word of the document."""
    return _told(view, view.source, 0, len(view.source.text))


def tokens_between(view: View, params: SemanticTokensRangeParams) -> SemanticTokens:
    """Every word of the lines in a range."""
    source = view.source
    start, end = (view.places.offset(source, place) for place in (params.range.start, params.range.end))
    return _told(view, source, start, end)


def _told(view: View, source: Source, first: int, last: int) -> SemanticTokens:
    """The tokens as the protocol counts them: each from the one before."""
    data: list[int] = []
    line = column = 0
    for mark in marks(source):
        if mark.end < first or mark.start > last:
            continue
        here = source.line_of(mark.start)
        start = units(source.text[source.starts[here] : mark.start], view.places.encoding)
        length = units(source.text[mark.start : mark.end], view.places.encoding)
        data += here - line, start - (column if here == line else 0), length, mark.type, mark.modifiers
        line, column = here, start
    return SemanticTokens(data)


def marks(source: Source) -> Iterator[Mark]:
    """The words of a text, in its order."""
    for start, text in logical_lines(source.text):
        for mark in _of_line(text) if len(text) <= LONGEST_LINE else ():
            yield mark._replace(start=start + mark.start, end=start + mark.end)


@lru_cache(32_768)
def _of_line(text: str) -> tuple[Mark, ...]:
    found = [Mark(*one.span(), COMMENT) for one in QUOTED_OR_COMMENT.finditer(text) if one[0][0] == "#"]
    defined = _defined(text)
    for token in words_of(without_comments(text)):
        type_ = KEYWORD if token.kind in KEYWORDS else KINDS.get(token.kind)
        if type_ is not None and "\n" not in token.text:
            found.append(Mark(token.start, token.end, type_, DECLARATION if token.start in defined else 0))
    return tuple(sorted(found))


def _defined(text: str) -> set[int]:
    """Where a statement gives a name."""
    one = read_line(text)
    if one is None or isinstance(one, Broken):
        return set()
    return {one.at.start + word.start for role, word in words(one) if role in DEFINING}
