"""A plan's text to statements and broken lines. Each line is read by itself, and once: see `read_bare`."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from functools import lru_cache
from itertools import accumulate, pairwise

from .comments import QUOTED_OR_COMMENT as QUOTED_OR_COMMENT
from .comments import without_comments as without_comments
from .comments import without_last_comments
from .make import Senseless
from .parse import Token, Unexpected, parse
from .record import NamedTuple, new
from .shapes import forget_words
from .span import Source, Span
from .statements import Broken, Statement
from .typed import TypeVar

Placed = TypeVar("Placed", bound=Statement | Broken)

LONGEST_LINE = 10_000
BOM = "\ufeff"

FIRST = re.compile(r"^[^\s#]", re.MULTILINE)
_BEGIN = re.compile(r"^(?=[^\s#])", re.MULTILINE)


class Reading(NamedTuple):
    """A file as read: its good lines and its broken ones, each in the file's order. `lines` are the good ones as they
    are kept by their text alone: the same line has the same object, wherever and whenever it is read, and whatever
    comments stand behind it."""

    source: Source
    statements: list[Statement]
    broken: list[Broken]
    lines: list[Statement] = []


def read(source: Source) -> Reading:
    """Reads every line of a plan. Whatever the text holds, this gives an answer."""
    statements: list[Statement] = []
    broken: list[Broken] = []
    lines: list[Statement] = []
    path = source.path
    for start, line in logical_lines(source.text):
        if len(line) > LONGEST_LINE:
            line = without_comments(without_last_comments(line))
        one = read_line(line) if len(line) <= LONGEST_LINE else too_long(line)
        if one is None:
            continue
        if isinstance(one, Broken):
            broken.append(place(one, path, start))
        else:
            statements.append(place(one, path, start))
            lines.append(one)
    return Reading(source, statements, broken, lines)


def moved(read: list[Placed], by: int) -> list[Placed]:
    """What was read of lines, where they stand so many characters further on."""
    return [place(one, one[0][0], by) for one in read] if by else read


def place(one: Placed, path: str, start: int) -> Placed:
    """What was read of a line, at the line's place in its file, made as plain tuples are: of a long plan, thousands at
    every key."""
    _, first, last = one[0]
    placed: Placed = new(type(one), (new(Span, (path, start + first, start + last)), *one[1:]))
    return placed


def logical_lines(text: str) -> Iterator[tuple[int, str]]:
    """Every line that begins at the left edge, with the indented, empty and comment lines that follow it, and the `end`
    of a construction."""
    text = with_plain_ends(text)
    if text.startswith(BOM):
        text = "\n" + text[1:]
    lines = _BEGIN.split(text)
    if "\nconstruction" in text or text.startswith("construction"):
        lines = _with_ends(lines)
    return zip(accumulate(map(len, lines), initial=0), map(str.rstrip, lines), strict=False)


def _with_ends(lines: list[str]) -> list[str]:
    """The lines, of which the `end` of a construction goes on with it."""
    whole = lines[:1]
    for before, line in pairwise(lines):
        if before.startswith("construction") and closes(line):
            whole[-1] += line
        else:
            whole.append(line)
    return whole


def with_plain_ends(text: str) -> str:
    """The text with every line ended by LF, each character where it was."""
    return text.replace("\r\n", " \n").replace("\r", "\n") if "\r" in text else text


def closes(line: str) -> bool:
    """Whether a line at the left edge begins no statement: it closes the construction above it."""
    return line.startswith("end") and re.compile(r"(?m)end[ \t]*(?:#.*)?$").match(line) is not None


def read_line(line: str) -> Statement | Broken | None:
    """One logical line, placed as if it began its file; None where it is empty."""
    bare = without_comments(line)
    if not bare:
        return None
    if bare[0].isspace():
        return stray_indent(bare)
    try:
        return read_bare(bare)
    except Senseless as fault:
        from .mistakes.words import nearest  # loaded where a line is wrong only

        meant = nearest(line[fault.start : fault.end], fault.among)
        return Broken(Span("", fault.start, fault.end), fault.message, meant)
    except Unexpected as fault:
        return _explained(line, fault.token)


@lru_cache(32_768)
def read_bare(line: str) -> Statement:
    """A line without its comments. Kept by its text alone, so that reading a file again after a keystroke costs little
    more than one line, and a line stays the same object whatever is typed behind it."""
    return parse(line)


@lru_cache(32_768)
def _explained(line: str, token: Token) -> Broken:
    from .mistakes import explain

    return explain(line, token)


def words_of(broken: Iterable[Broken], sources: Mapping[str, Source]) -> Iterator[str]:
    """Every word of the lines that could not be read, as far as their texts are at hand."""
    for one in broken:
        if source := sources.get(one.at.path):
            text = source.line_text(source.line_of(one.at.start))
            yield from text.replace(",", " ").replace(":", " ").split()


def forget() -> None:
    """Lets go of all lines that were read."""
    read_bare.cache_clear()
    _explained.cache_clear()
    forget_words()


def stray_indent(line: str) -> Broken:
    start = len(line) - len(line.lstrip())
    message = "an indented line goes on with the statement above, and there is none: start at the left edge"
    return Broken(Span("", start, len(line)), message)


def too_long(line: str) -> Broken:
    message = f"this line is longer than {LONGEST_LINE:,} characters, more than any statement needs"
    return Broken(Span("", 0, len(line)), message)
