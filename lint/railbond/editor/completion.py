"""What may be typed next, by its place in the statement."""

from __future__ import annotations

import re
from collections.abc import Iterator

from lsprotocol.types import CompletionItem, CompletionItemKind, CompletionList, CompletionParams, TextEdit

from trackplan.edit import begins_statement
from trackplan.quantities import MEASURES
from trackplan.read import QUOTED_OR_COMMENT, without_comments
from trackplan.span import Source
from trackplan.words import Expected, begins, expected

from .candidates import candidates
from .view import View

MOST = 1000
_WORD = re.compile(r"[^\W\d_][\w.-]*$")
_NUMBER = re.compile(r"(?<![\w.])(\d+(?:\.\d+)?)(\s*)([a-zA-Z%²/]*\d?)$")


def completion(view: View, params: CompletionParams) -> CompletionList:
    """The words, names and units that fit at a place."""
    source, offset = view.source, view.offset(params.position)
    before = line_before(source, offset)
    if before is None:
        return CompletionList(False, [])
    number, word = _NUMBER.search(before), _WORD.search(before)
    start = number.start() if number else word.start() if word else len(before)
    ahead = expected(before[:start])
    found = _units(ahead, number) if number else _words(view, before[:start], ahead)
    place = view.places.range(source, offset - (len(before) - start), offset)
    items = [
        CompletionItem(text, kind=kind, sort_text=f"{order:05}", text_edit=TextEdit(place, text))
        for order, (text, kind) in enumerate(dict(found).items())
        if order < MOST
    ]
    return CompletionList(len(items) == MOST, items)


def line_before(source: Source, offset: int) -> str | None:
    """A statement's text up to a place, with blanks for its comments; None within a comment or a quoted text."""
    line = source.line_of(offset)
    start = source.starts[line]
    here = source.text[start:offset]
    if any(mark in QUOTED_OR_COMMENT.sub(_bare, here) for mark in '"#'):
        return None
    while line and here[:1].isspace() and not begins_statement(source, line):
        line -= 1
        here = source.text[source.starts[line] : offset]
        if begins_statement(source, line):
            break
    tail = here[len(here.rstrip()) :]
    return without_comments(here) + tail


def _bare(found: re.Match[str]) -> str:
    return "#" if found[0][0] == "#" else " "


def _words(view: View, before: str, ahead: Expected) -> Iterator[tuple[str, CompletionItemKind]]:
    plan = view.plan
    modules = [other for root in plan.scope.modules.values() if (other := view.store.readable(root))]
    kind = before.split(None, 1)[0] if before.strip() else ""
    for role in ahead.roles:
        for text in candidates(plan, role, modules):
            if role != "supply" or kind == "feeder" or "." not in text:
                yield text, CompletionItemKind.Reference
    yield from ((text, CompletionItemKind.Keyword) for text in ahead.keywords)
    if "->" in ahead.words:
        yield "->", CompletionItemKind.Operator


def _units(ahead: Expected, number: re.Match[str]) -> Iterator[tuple[str, CompletionItemKind]]:
    """The number with each unit that fits there."""
    terminals = {symbol for role in ahead.roles for symbol in begins(f"<{role}>")} | set(ahead.words)
    for terminal, measure in MEASURES.items():
        if terminal in terminals:
            for unit in measure.units:
                if unit.startswith(number[3]) and unit:
                    yield f"{number[1]} {unit}", CompletionItemKind.Unit
