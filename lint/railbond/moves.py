"""Where everything in a plan is now, of which the same lines were read before.

Comments, blanks and lines that do not read may have come or gone between two texts; every place in what was told of the
first is then somewhere in the second. What cannot be told for certain raises CannotTell.
"""

from __future__ import annotations

import re
from bisect import bisect_left, bisect_right
from collections.abc import Mapping
from operator import is_
from typing import TYPE_CHECKING, Any, Protocol

from railbond.findings import Claim
from trackplan.edit import Edit
from trackplan.reread import shared_end, shared_start
from trackplan.span import Span

if TYPE_CHECKING:
    from trackplan.read import Reading

_NUMBER = re.compile(r"#\d")


class CannotTell(Exception):
    """What was found before says nothing certain of the plan as it is now."""


class FileMoves:
    """Where everything in a file is now that was elsewhere before."""

    def __init__(self, before: Reading, after: Reading) -> None:
        self.text, self.now = before.source.text, after.source.text
        self.is_same = self.text == self.now and (bool(before.lines) or before.statements == after.statements)
        self.starts, self.ends, self.shifts, self.above = list[int](), list[int](), list[int](), 0
        if self.is_same:
            return
        if not len(before.lines) == len(after.lines) == len(before.statements) == len(after.statements):
            raise CannotTell
        if not all(map(is_, before.lines, after.lines)):
            raise CannotTell
        self.starts = [one[0][1] for one in before.statements]
        self.ends = [one[0][2] for one in before.statements]
        self.shifts = [one[0][1] - start for one, start in zip(after.statements, self.starts, strict=True)]
        first = max(bisect_left(self.starts, shared_start(self.text, self.now)) - 2, 0)
        last = bisect_right(self.ends, len(self.text) - shared_end(self.text, self.now)) + 2
        self.above = self.starts[first] if first < len(self.starts) else 0
        """The start of a statement before which nothing has changed."""
        self._check_comments(range(first, min(last, len(self.starts))))

    def _check_comments(self, around: range) -> None:
        """Raises CannotTell where a number in a comment behind one of these statements, around which something was
        typed, may have been meant for it."""
        for place in around:
            end = self.ends[place]
            if not self._is_gap_same(place):
                for text, at in ((self.text, end), (self.now, end + self.shifts[place])):
                    if _NUMBER.search(text, at, _line_end(text, at)):
                        raise CannotTell

    def _is_gap_same(self, place: int) -> bool:
        """Whether what stands between a statement and the next is as it was."""
        start, shift = self.ends[place], self.shifts[place]
        if place + 1 == len(self.starts):
            return self.text[start:] == self.now[start + shift :]
        stop = self.starts[place + 1]
        return shift == self.shifts[place + 1] and self.text[start:stop] == self.now[start + shift : stop + shift]

    def span(self, at: Span, adds: bool = False) -> Span:
        """Where a stretch is now, or one that `adds` a line behind it. Raises CannotTell where something else was typed
        in it, or beside a line that is added there, than statements: where such a line lies hangs on what is around."""
        if self.is_same or at.end == 0 or at.end < self.above:
            return at
        first, last = (bisect_right(self.starts, offset) - 1 for offset in (at.start, at.end))
        if first < 0:
            raise CannotTell
        begins = at.start == at.end == self.starts[first]
        around = range(max(first - begins, 0), last + (adds or begins or at.end > self.ends[last]))
        if not all(map(self._is_gap_same, around)):
            raise CannotTell
        return at._replace(start=at.start + self.shifts[first], end=at.end + self.shifts[first])


def _line_end(text: str, at: int) -> int:
    end = text.find("\n", at)
    return len(text) if end < 0 else end


class Moved(Protocol):
    """Whatever tells where a place of a file is in another text of it."""

    def span(self, at: Span, adds: bool = False) -> Span:
        """Where a stretch is, or one that `adds` a line behind it."""


class Moves:
    """Where everything in a plan is now."""

    def __init__(self, files: Mapping[str, Moved]) -> None:
        self.files = files

    def moved(self, value: Any) -> Any:
        """Whatever is told, with every place in it where it is now."""
        if type(value) is str or isinstance(value, Claim) or not isinstance(value, tuple):
            return value
        if isinstance(value, Span):
            return self.files[value.path].span(value)
        if isinstance(value, Edit) and value.line:
            return value._replace(at=self.files[value.at.path].span(value.at, adds=True))
        parts, kind = [self.moved(one) for one in value], type(value)
        if all(map(is_, parts, value)):
            return value
        return kind._make(parts) if hasattr(kind, "_make") else kind(parts)
