"""A file's text with room behind its statements, so that what lies below a line that is typed at stays where it is.

Everything that is worked out of a plan holds places in its text. With these, a line that grows by a letter leaves
every other statement the same object, and itself in the same stretch: what was worked out of all others holds as it is.
The text has the same rows as the file. Room belongs to the end of the statement before it, in part to the statement
itself, which so has a few blanks at its end; there is nothing else in it.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Sequence
from functools import cached_property
from itertools import pairwise
from typing import TYPE_CHECKING, overload

from trackplan.reread import shared_end, shared_start
from trackplan.span import Source, Span

if TYPE_CHECKING:
    from trackplan.read import Reading
    from trackplan.statements import Statement

ROOM, OWN = 240, 40
"""Characters behind each statement of a file that is read for the first time, or in which a line found no room, and how
many of them are the statement's own."""


class SteadyFile:
    """One file of which every line was read: `reading` as it stands, `steady` as it is kept. A chunk is a statement
    with all that follows it up to the next; `marks` are where chunks begin in the file, `starts` where in the
    steady text, and `widths` what their statements take there."""

    def __init__(self, reading: Reading, before: SteadyFile | None = None) -> None:
        self.reading = reading
        self.text = reading.source.text
        ends = {one[0][1]: one[0][2] for one in reading.statements}
        self.marks = [at for at in ends if not at or self.text[at - 1] in "\r\n"]
        if self.marks[:1] != [0]:
            self.marks.insert(0, 0)
        self.lengths = [after - mark for mark, after in pairwise([*self.marks, len(self.text)])]
        self.heads = [ends.get(mark, mark) - mark for mark in self.marks]
        """Characters of each chunk's statement."""
        self.starts, self.widths, kept = (before and before._followed(self)) or self._with_room()
        self.statements = self._placed(before, kept)

    def _with_room(self) -> Slots:
        starts = [mark + number * ROOM for number, mark in enumerate(self.marks)]
        return starts, [head + OWN for head in self.heads], (0, 0)

    def _followed(self, now: SteadyFile) -> Slots | None:
        """Where the chunks of a later text of the file are to be, and how many above and below stay as they are; None
        where what is new finds no room."""
        ends = [*self.marks, len(self.text)]
        above = bisect_right(ends, shared_start(self.text, now.text)) - 1
        while above and now.marks[above : above + 1] != [ends[above]]:
            above -= 1
        shift = len(now.text) - len(self.text)
        shared = min(shared_end(self.text, now.text), min(len(self.text), len(now.text)) - ends[above])
        below = len(self.marks) - bisect_left(self.marks, len(self.text) - shared, lo=above)
        below = min(below, len(now.marks) - above)
        while below and now.marks[-below] != self.marks[-below] + shift:
            below -= 1
        last = len(self.marks) - below
        is_same = self.marks[:above] == now.marks[:above]
        is_same = is_same and self.lengths[last:] == now.lengths[len(now.marks) - below :]
        between = self._between(now, above, below) if is_same else None
        if between is None:
            return None
        starts, widths = between
        starts = [*self.starts[:above], *starts, *self.starts[last:]]
        return starts, [*self.widths[:above], *widths, *self.widths[last:]], (above, below)

    def _between(self, now: SteadyFile, above: int, below: int) -> tuple[list[int], list[int]] | None:
        """Where the chunks are that are new, and what their statements take: as those in their places, if they fit
        there, else side by side."""
        old = range(above, len(self.marks) - below)
        new = range(above, len(now.marks) - below)
        begin = self._end(above - 1) if above else 0
        taken = sum(now.lengths[above : new.stop])
        end = self.starts[-below] if below else max(self.starts[-1], begin) + taken + ROOM * (len(new) + 1)
        slots = [after - start for start, after in pairwise([*self.starts[above : old.stop], end])]
        if len(old) == len(new):
            rest = [self.widths[one] + now.lengths[one] - now.heads[one] for one in old]
            if all(now.heads[one] <= self.widths[one] for one in old) and all(map(int.__le__, rest, slots)):
                return self.starts[above : old.stop], self.widths[above : old.stop]
        spare = (end - begin - taken) // (len(new) + 1)
        if spare < 0 or not above:
            return None
        starts = []
        for one in new:
            starts.append(begin + spare)
            begin += spare + now.lengths[one]
        return starts, [now.heads[one] + min(spare // 2, OWN) for one in new]

    @property
    def steady(self) -> Reading:
        """What was read, at its places in the steady text. The file does not hold it: each would hold the other, and be
        there until there is time to look for waste."""
        broken = [one._replace(at=self._steady_line(one.at)) for one in self.reading.broken]
        return self.reading._replace(source=SteadySource(self), statements=self.statements, broken=broken)

    def _placed(self, before: SteadyFile | None, kept: tuple[int, int]) -> list[Statement]:
        """The statements at their places in the steady text; what is as it was before is the same object."""
        read, known = self.reading.statements, before.statements if before else []
        above, below = kept
        top = self.marks[above] if above < len(self.marks) else len(self.text)
        bottom = self.marks[-below] if below else len(self.text) + 1
        first, last = (bisect_left(read, at, key=lambda one: one.at.start) for at in (top, bottom))
        between = [one._replace(at=self._steady(one.at)) for one in read[first:last]]
        statements = [*known[:first], *between, *known[len(known) - (len(read) - last) :]]
        if before and len(statements) == len(known):
            statements = _same_again(statements, self.reading.lines, before)
        return statements

    def _steady(self, at: Span) -> Span:
        """Where a statement of the file lies in the steady text."""
        chunk = bisect_right(self.marks, at.start) - 1
        by = self.starts[chunk] - self.marks[chunk]
        return Span(at.path, at.start + by, self.starts[chunk] + self.widths[chunk])

    def _steady_line(self, at: Span) -> Span:
        """Where a line that could not be read lies in the steady text: behind the room of the statement above it."""
        chunk = bisect_right(self.marks, at.start) - 1
        is_behind = at.start - self.marks[chunk] >= self.heads[chunk]
        by = self.starts[chunk] - self.marks[chunk] + (self._room(chunk) if is_behind else 0)
        return Span(at.path, at.start + by, at.end + by)

    def span(self, at: Span, adds: bool = False) -> Span:
        """Where in the file a stretch of the steady text lies."""
        return Span(at.path, self._offset(at.start), self._offset(at.end))

    def _offset(self, steady: int) -> int:
        chunk = max(bisect_right(self.starts, steady) - 1, 0)
        within = steady - self.starts[chunk]
        return self.marks[chunk] + max(min(within, self.heads[chunk]), within - self._room(chunk))

    def _room(self, chunk: int) -> int:
        last = chunk + 1 == len(self.starts)
        end = self._end(chunk) if last else self.starts[chunk + 1]
        return end - self.starts[chunk] - self.lengths[chunk]

    def _end(self, chunk: int) -> int:
        """Where in the steady text a chunk must end at the least."""
        return self.starts[chunk] + self.widths[chunk] + self.lengths[chunk] - self.heads[chunk]

    @property
    def size(self) -> int:
        """Characters of the steady text."""
        return self.starts[-1] + self.lengths[-1] + self._room(len(self.marks) - 1)

    def row_start(self, row: int) -> int:
        """Where in the steady text a row begins of which it is known where it does in the file."""
        chunk = bisect_right(self.marks, row) - 1
        is_behind = row - self.marks[chunk] > self.heads[chunk]
        return row + self.starts[chunk] - self.marks[chunk] + (self._room(chunk) if is_behind else 0)

    def line_of(self, steady: int) -> int:
        """The row of the file in which an offset of the steady text lies."""
        return self.reading.source.line_of(self._offset(steady))

    def with_room(self, first: int = 0, last: int | None = None) -> str:
        """The steady text, or that of some of its chunks."""
        parts: list[str] = []
        for chunk in range(first, len(self.marks) if last is None else last):
            mark = self.marks[chunk]
            end = mark + self.heads[chunk]
            parts += self.text[mark:end], " " * self._room(chunk), self.text[end : mark + self.lengths[chunk]]
        return "".join(parts)


Slots = tuple[list[int], list[int], tuple[int, int]]


def _same_again(statements: list[Statement], lines: list[Statement], before: SteadyFile) -> list[Statement]:
    """The statements; one whose line says what that in its place said, at the same place, is that one."""
    pairs = zip(statements, lines, before.statements, before.reading.lines, strict=False)
    same = [old if line is known and one[0] == old[0] else one for one, line, old, known in pairs]
    return [*same, *statements[len(same) :]]


class SteadySource(Source):
    """A steady text, put together when somebody reads it."""

    def __init__(self, file: SteadyFile) -> None:
        self.file = file
        self.path = file.reading.source.path

    @cached_property
    def text(self) -> str:  # type: ignore[override]
        return self.file.with_room()

    def part(self, start: int, end: int) -> str:
        starts = self.file.starts
        first, last = max(bisect_right(starts, start) - 1, 0), bisect_left(starts, end)
        return self.file.with_room(first, last)[start - starts[first] : end - starts[first]]

    @property
    def starts(self) -> Sequence[int]:
        return RowStarts(self.file)

    def line_of(self, offset: int) -> int:
        return self.file.line_of(offset)

    @property
    def newline(self) -> str:
        return self.file.reading.source.newline

    @property
    def size(self) -> int:
        return self.file.size

    @property
    def typed(self) -> str:
        return self.file.text


class RowStarts(Sequence[int]):
    """Where in a steady text each row begins, told of those that somebody asks for: they are few."""

    def __init__(self, file: SteadyFile) -> None:
        self.file = file

    def __len__(self) -> int:
        return len(self.file.reading.source.starts)

    @overload
    def __getitem__(self, at: int) -> int: ...
    @overload
    def __getitem__(self, at: slice) -> Sequence[int]: ...
    def __getitem__(self, at: int | slice) -> int | Sequence[int]:
        rows = self.file.reading.source.starts[at]
        return self.file.row_start(rows) if isinstance(rows, int) else list(map(self.file.row_start, rows))
