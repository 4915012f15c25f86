"""What may be typed next, by its place in the statement."""

from __future__ import annotations

import os
import re
from collections.abc import Iterable, Iterator

from lsprotocol.types import CompletionItem, CompletionItemKind, CompletionList, CompletionParams, TextEdit

from trackplan.edit import begins_statement
from trackplan.quantities import MEASURES
from trackplan.read import QUOTED_OR_COMMENT, without_comments
from trackplan.span import Source
from trackplan.words import Expected, begins, expected

from .candidates import candidates
from .view import View

MOST = 1000
Offers = Iterator[tuple[str, CompletionItemKind]]
_FILE = re.compile(r'^(?:include|module[ \t]+\S+)[ \t]+"([^"]*)$')
_WORD = re.compile(r"[^\W\d_][\w.-]*$")
_NUMBER = re.compile(r"(?<![\w.])(\d+(?:\.\d+)?)(\s*)([a-zA-Z%²/]*\d?)$")


def completion(view: View, params: CompletionParams) -> CompletionList:
    """The words, names and units that fit at a place."""
    source, offset = view.source, view.offset(params.position)
    if file := _FILE.search(source.text[source.starts[source.line_of(offset)] : offset]):
        return _listed(view, offset, [(len(file[1]), files(view, file[1]))])
    before = line_before(source, offset)
    if before is None:
        return CompletionList(False, [])
    found = [(len(before) - start, offers) for start, offers in _offers(view, before)]
    return _listed(view, offset, found)


def _offers(view: View, before: str) -> Iterator[tuple[int, Offers]]:
    """What fits at the end of a line, each with where the text that it replaces begins: the units of a number, and the
    names and words that may follow."""
    number, word = _NUMBER.search(before), _WORD.search(before)
    if number:
        yield number.start(), _units(expected(before[: number.start()]), number)
    if not number or number[2]:
        start = word.start() if word else len(before)
        yield start, _words(view, before[:start], expected(before[:start]))


def _listed(view: View, offset: int, found: Iterable[tuple[int, Offers]]) -> CompletionList:
    """Offers as the editor takes them, each in the place of so many characters before the cursor."""
    every = [(typed, *one) for typed, offers in found for one in dict(offers).items()]
    items = [
        CompletionItem(text, kind=kind, sort_text=f"{order:05}", text_edit=TextEdit(place, text))
        for order, (typed, text, kind) in enumerate(every[:MOST])
        for place in [view.places.range(view.source, offset - typed, offset)]
    ]
    return CompletionList(len(every) > MOST, items)


def files(view: View, typed: str) -> Offers:
    """The plans that `include` and `module` can name, as seen from the document's folder."""
    here = os.path.dirname(view.path)
    for path in view.store.texts.around(view.path):
        name = os.path.relpath(path, here).replace(os.sep, "/") if os.path.isabs(path) else path
        if path != view.path and name.startswith(typed):
            yield name, CompletionItemKind.File


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


def _words(view: View, before: str, ahead: Expected) -> Offers:
    plan = view.plan
    modules = [other for root in plan.scope.modules.values() if (other := view.store.readable(root))]
    kind = before.split(None, 1)[0] if before.strip() else ""
    for role in ahead.roles:
        for text in candidates(plan, role, modules):
            if role != "supply" or kind == "feeder" or "." not in text:
                yield text, CompletionItemKind.Reference
    if "file" in ahead.roles:
        yield from ((f'"{name}"', kind) for name, kind in files(view, ""))
    yield from ((text, CompletionItemKind.Keyword) for text in ahead.keywords)
    if "->" in ahead.words:
        yield "->", CompletionItemKind.Operator


def _units(ahead: Expected, number: re.Match[str]) -> Offers:
    """The number with each unit that fits there."""
    terminals = {symbol for role in ahead.roles for symbol in begins(f"<{role}>")} | set(ahead.words)
    for terminal, measure in MEASURES.items():
        if terminal in terminals:
            for unit in measure.units:
                if unit.startswith(number[3]) and unit:
                    yield f"{number[1]} {unit}", CompletionItemKind.Unit
