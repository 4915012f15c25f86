"""Places of a plan as people and editors read them, and text that is safe to show."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from railbond.findings import Fix
from railbond.saying import printable
from trackplan.span import Source, Span

Sources = Mapping[str, Source]

PROVEN = {
    "": "",
    "alone": "",
    "together": "cures together with the mends of what else is wrong",
    "untried": "not tried: so many trials take too long on this plan",
}


def line_at(at: Span, sources: Sources) -> str:
    """`file:line`, the line from 1."""
    return f"{printable(at.path)}:{sources[at.path].line_column(at.start)[0]}"


def point_at(at: Span, sources: Sources) -> str:
    """`file:line:column` as the GNU Coding Standards have it: both from 1, columns in characters."""
    line, column = sources[at.path].line_column(at.start)
    return f"{printable(at.path)}:{line}:{column}"


def said(fix: Fix) -> str:
    """A fix in words, with what it changes about the railroad, and how far it was proven where that is not all."""
    notes = [note for note in (fix.changes, PROVEN[fix.proven]) if note]
    return f"{fix.words} ({'; '.join(notes)})" if notes else fix.words


def unread(lines: Sequence[int]) -> str:
    """What a picture says that is older than the text: these lines of it cannot be read."""
    *most, last = map(str, lines)
    told = f"Lines {', '.join(most)} and {last}" if most else f"Line {last}"
    return f"{told} cannot be read. The picture is that of the text before."


def counted(number: int, word: str) -> str:
    """`1 error`, `2 errors`."""
    return f"{number} {word}" if number == 1 else f"{number} {word}s"
