"""The layout of a plan's text: columns that line up, one blank line between groups, and nothing else changed.

A group is a run of lines without a blank or a comment line. In it, the parts of statements of one kind stand
in columns, and kinds that belong together, as a booster and its districts, share their first one. A part that
a line leaves out leaves its column empty. Lines that do not read stay as they are, byte for byte.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from functools import lru_cache
from itertools import groupby
from typing import Any

from .comments import comment_lines, is_comment
from .construction import Construction
from .read import BOM, QUOTED_OR_COMMENT, Reading, read, with_plain_ends
from .record import NamedTuple
from .span import Source
from .statements import Statement

GAP = "  "
KEYWORD = "keyword"
CONTINUED = "continued"
FAMILIES = {
    "booster": "power", "district": "power", "block": "power", "reverser": "power", "bus": "power",
    "segment": "track", "turnout": "track", "endplate": "track", "stub": "track", "three-way": "track",
    "crossing": "track", "slip": "track", "scissors": "track",
    "bond": "work", "cut": "work", "frog": "work",
    "engine": "running", "train": "running",
}  # fmt: skip
CLAUSES = ("positions", "rail", "frog", "joined", "tie", "pass", "blade", "opening")
_QUOTED_OR_BLANKS = re.compile(r'("[^"\n]*")|\s+')
_WORD = re.compile(r"\S+")
_KEYWORD = re.compile(r'^(?:[^\s"]+|")')
"""The first word: a text may stand right behind it."""


class TidyError(Exception):
    """The layout would have changed what a text says: a fault of this program, never of the text."""


class AlignedRow(NamedTuple):
    """One line: its cells, the first one its keyword, and the names of their columns; its comment and its line end.

    A line `apart` ends a group. Only rows with cells or a comment are laid out; others are their `text`, and of comment
    lines in a row that of them all.
    """

    cells: Sequence[str]
    columns: tuple[str, ...]
    comment: str
    text: str = ""
    apart: bool = False
    newline: str = ""


def tidy(source: Source) -> str:
    """The text laid out. Raises TidyError rather than give one that says anything else."""
    reading = read(source)
    new = lay_out(reading)
    again = read(Source(source.path, new)) if new != source.text else reading
    if again is not reading and (said(reading) != said(again) or lay_out(again) != new):
        raise TidyError(f"the layout of {source.path} would change what it says")
    return new


def said(reading: Reading) -> tuple[list[Any], list[Any], list[str]]:
    """All that a text says, wherever it stands: statements, broken lines, comments."""
    text = reading.source.text
    plain = with_plain_ends(text)
    texts = (plain[one.at.start : one.at.end].split("\n") for one in reading.broken)
    broken = [
        (one.message, [line.rstrip() for line in lines if line.strip()])
        for one, lines in zip(reading.broken, texts, strict=True)
    ]
    statements = [(type(one), one[1:]) for one in reading.statements]
    comments = [one.rstrip() for one in QUOTED_OR_COMMENT.findall(text) if one[0] == "#"]
    return statements, broken, comments


def lay_out(reading: Reading) -> str:
    mark = BOM if reading.source.text.startswith(BOM) else ""
    rows = without_extra_blanks(list(rows_of(reading, mark)))
    edge = max((len(row.cells[0]) for row in rows if row.cells), default=0)
    lines = []
    for apart, group in groupby(rows, key=lambda row: row.apart):
        own = list(group)
        lines += [row.text + row.newline for row in own] if apart else align(own, edge)
    return mark + "".join(parted(lines) if "\r" in reading.source.text else lines)


def parted(lines: list[str]) -> Iterator[str]:
    """The lines, with a blank in an empty one whose LF would make one line end with the CR before it."""
    for before, line in zip(["", *lines], lines, strict=False):
        yield f" {line}" if before.endswith("\r") and line.startswith("\n") else line


def without_extra_blanks(rows: list[AlignedRow]) -> list[AlignedRow]:
    """One blank line where there were several, none at the start and the end."""
    blank = [row.apart and not row.text for row in rows]
    kept = [row for row, this, before in zip(rows, blank, [False, *blank], strict=False) if not (this and before)]
    if blank[-1:] == [True]:
        kept.pop()
    if blank[:1] == [True] and kept[1:] and not kept[1].text.startswith(BOM):  # a mark is one at the start only
        kept.pop(0)
    return kept


def align(rows: list[AlignedRow], edge: int) -> list[str]:
    """The lines of a group. `edge` is the width of the file's longest keyword."""
    widths: dict[str, int] = {}
    for row in rows:
        for column, text in zip(row.columns, row.cells, strict=True):
            if len(text) > widths.get(column, -1):
                widths[column] = len(text)
    widths[KEYWORD] = edge
    texts = [row.text or in_columns(row, widths) for row in rows]
    margin = max((len(text) for text, row in zip(texts, rows, strict=True) if row.comment), default=0)
    return [
        (f"{text.ljust(margin)}{GAP}{row.comment}" if row.comment else text) + row.newline
        for text, row in zip(texts, rows, strict=True)
    ]


def in_columns(row: AlignedRow, widths: dict[str, int]) -> str:
    cells = zip(row.cells, map(widths.__getitem__, row.columns), strict=True)
    return GAP.join([text.ljust(width) for text, width in cells if width]).rstrip()


def rows_of(reading: Reading, mark: str) -> Iterator[AlignedRow]:
    """Every line of a text as a row, the first one without the mark that it begins with; comment lines in a row as
    one."""
    source, everything, size = reading.source, reading.source.text, len(reading.source.text)
    statements = {one[0][1]: one for one in reading.statements}
    starts = [*source.starts, size]
    last, beside_comment, told, line = -1, False, None, -1
    while (start := starts[line := line + 1]) < size:
        stop = starts[line + 1]
        text = everything[start:stop].rstrip("\r\n")
        if not beside_comment and is_comment(text):
            lines, end, after = comment_lines(everything, start)
            yield AlignedRow((), (), "", lines, True, everything[end:after])
            line = source.line_of(after) - 1 if after < size else len(starts) - 2
            continue
        newline = everything[start + len(text) : stop]
        statement = statements.get(start if line else len(mark))
        if statement:
            told = statement
            last = line if statement[0][2] <= start + len(text) else source.line_of(statement[0][2])
        whole, clauses = statement if last == line else None, isinstance(told, Construction)
        row = row_of(text if line else text.removeprefix(mark), newline, whole, line <= last, beside_comment, clauses)
        beside_comment = bool(row.comment)
        yield row


def row_of(
    text: str, newline: str, whole: Statement | None, reads: bool, beside_comment: bool, clauses: bool
) -> AlignedRow:
    """One line's row: `whole` is a statement all on it, and `reads` whether it is at least a part of one; `clauses`
    whether that is one of a construction's."""
    bare, comment = split_comment(text)
    if whole:
        return AlignedRow(*cells(whole, bare), comment, "", False, newline)
    if reads and bare:
        return AlignedRow(*continued(bare, clauses), comment, "", False, newline)
    if comment and not bare and beside_comment and text[0].isspace():
        return AlignedRow((), (), comment, "", False, newline)
    return AlignedRow((), (), "", text if bare else text.rstrip(), not bare, newline)


def split_comment(text: str) -> tuple[str, str]:
    """A line without its comment and the blanks around it, and the comment."""
    if "#" not in text:
        return text.rstrip(), ""
    comment = next((one for one in QUOTED_OR_COMMENT.finditer(text) if one[0][0] == "#"), None)
    if comment is None:
        return text.rstrip(), ""
    return text[: comment.start()].rstrip(), comment[0].rstrip()


def continued(text: str, clauses: bool) -> tuple[Sequence[str], tuple[str, ...]]:
    """The cells of one line of a statement that runs on, and their columns: its words as they stand, blanks drawn
    together. A clause has a column for its first word."""
    keyword = "" if text[0].isspace() else _KEYWORD.findall(text)[0]
    rest = drawn_together(text.removeprefix(keyword))
    if not clauses or keyword:
        return (keyword, rest), (KEYWORD, CONTINUED)
    first = rest.split(None, 1)[0]
    clause = first if first in CLAUSES else ""
    return ("", clause, rest.removeprefix(clause).lstrip()), (KEYWORD, "clause", "of a clause")


def cells(statement: Statement, text: str) -> tuple[Sequence[str], tuple[str, ...]]:
    """The cells of a statement on one line, and their columns: each part with the keywords before it; an arrow joins
    two."""
    keyword = _KEYWORD.findall(text)[0]
    found, done = [keyword], len(keyword)
    for part in extents(statement, text):
        if part is None:
            found.append("")
            continue
        first, last = part
        if text.find("->", done, first) >= 0:
            found[-1] += f" -> {text[first:last]}"
        else:
            found.append(drawn_together(text[done:last]))
        done = last
    if done < len(text):
        found.append(drawn_together(text[done:]))
    return found, columns(keyword, type(statement).__name__, len(found))


@lru_cache(1024)
def columns(keyword: str, kind: str, count: int) -> tuple[str, ...]:
    """The names of a statement's columns; statements whose columns share a name are aligned."""
    names = [KEYWORD, FAMILIES.get(keyword, keyword), f"{keyword} mode"]
    return (*names, *(f"{kind} {place}" for place in range(count)))[:count]


def extents(statement: Statement, text: str) -> list[tuple[int, int] | None]:
    """Start and end of each part, None for one left out. A frog's `switched`, `automatic` is one of them."""
    parts: tuple[Any, ...] = statement[1:]
    found = [
        None if part is None else extent(part) if isinstance(part, tuple) else (part.start, part.end) for part in parts
    ]
    if text.startswith("frog") and found[0]:
        mode = _WORD.search(text, found[0][1])
        found.insert(1, mode and mode.span())
    return found


def extent(part: Any) -> tuple[int, int]:
    if not isinstance(part, tuple):
        return part.start, part.end
    inner = [extent(one) for one in part if one is not None]
    return min(start for start, _ in inner), max(end for _, end in inner)


def drawn_together(text: str) -> str:
    """A text with one blank for every run of them outside quotes."""
    if '"' not in text:
        return " ".join(text.split())
    return _QUOTED_OR_BLANKS.sub(lambda one: one[1] or " ", text).strip()
