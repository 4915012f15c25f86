"""Places in the text of a plan, and their columns as terminals, SARIF and editors count them."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterator, Sequence
from itertools import accumulate, count
from operator import add

from .record import NamedTuple


class Span(NamedTuple):
    """A stretch of one file's text: offsets in code points from its first character, `end` exclusive."""

    path: str
    start: int
    end: int

    def holds(self, at: Span) -> bool:
        """Whether another lies in it."""
        return self.path == at.path and self.start <= at.start and at.end <= self.end


class Word(str):
    """A name, keyword or quoted text as typed, with its place relative to the statement that holds it.

    `lead` are the keywords that lead up to it, since the part before it: `split` and `at` before an angle.
    """

    __slots__ = ("start", "end", "lead")
    start: int
    end: int
    lead: tuple[Word, ...]

    def __new__(cls, text: str, start: int = 0, end: int | None = None, lead: tuple[Word, ...] = ()) -> Word:
        word = str.__new__(cls, text)
        word.lead = lead
        word.start = start
        word.end = start + len(text) if end is None else end
        return word


class Source:
    """One file's text as it was read. `path` is what findings print; line ends are kept as they are."""

    def __init__(self, path: str, text: str) -> None:
        self.path = path
        self.text = text
        self._starts: list[int] | None = None

    @property
    def starts(self) -> Sequence[int]:
        """Offset of the first character of every line. A line ends with LF, CRLF or a lone CR."""
        if self._starts is None:
            self._starts = line_starts(self.text)
        return self._starts

    @property
    def newline(self) -> str:
        """The line end that this file uses, by its first one."""
        first = self.text.find("\n")
        return "\r\n" if first > 0 and self.text[first - 1] == "\r" else "\n"

    @property
    def size(self) -> int:
        """Characters of the text."""
        return len(self.text)

    @property
    def typed(self) -> str:
        """The text as somebody has typed it, if this is one to which room was added."""
        return self.text

    def part(self, start: int, end: int) -> str:
        """A stretch of the text."""
        return self.text[start:end]

    def line_of(self, offset: int) -> int:
        """Zero-based line that holds the offset."""
        return bisect_right(self.starts, offset) - 1

    def line_column(self, offset: int) -> tuple[int, int]:
        """Line and column of an offset, both from 1, columns in code points."""
        line = self.line_of(offset)
        return line + 1, offset - self.starts[line] + 1

    def line_text(self, line: int) -> str:
        """A line's text without its end; `line` from 0, and past the last line an empty text."""
        starts = self.starts
        if not 0 <= line < len(starts):
            return ""
        stop = starts[line + 1] if line + 1 < len(starts) else self.size
        return self.part(starts[line], stop).rstrip("\r\n")

    def lines(self) -> Iterator[tuple[str, str]]:
        """Text and end of every line; after the last line end comes another only where it has a character."""
        for start, stop in zip(self.starts, [*self.starts[1:], len(self.text)], strict=True):
            text = self.text[start:stop].rstrip("\r\n")
            if start < stop:
                yield text, self.text[start + len(text) : stop]


def line_starts(text: str) -> list[int]:
    """Offset of every line's first character; only LF, CRLF and CR end a line."""
    plain = text.replace("\r\n", "\0\n").replace("\r", "\n") if "\r" in text else text
    lines = plain.split("\n")
    return list(map(add, accumulate(map(len, lines[:-1]), initial=0), count()))


def units(text: str, encoding: str) -> int:
    """Length of a text in code units of `utf-8`, `utf-16` or `utf-32` (the LSP's position encodings)."""
    if encoding == "utf-32":
        return len(text)
    if encoding == "utf-8":
        return len(text.encode("utf-8", "surrogatepass"))
    return len(text) + sum(char > "\uffff" for char in text)


def offset_at(source: Source, line: int, unit: int, encoding: str) -> int:
    """Code point offset of an editor's zero-based line and unit; a stale place is clamped, never an error."""
    if line < 0:
        return 0
    if line >= len(source.starts):
        return len(source.text)
    text = source.line_text(line)
    taken = 0
    for index, char in enumerate(text):
        if taken >= unit:
            return source.starts[line] + index
        taken += units(char, encoding)
    return source.starts[line] + len(text)
