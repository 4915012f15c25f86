"""The edits of a fix as whole lines: what stands there now, and what takes its place."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from trackplan.edit import Edit, resolve
from trackplan.record import NamedTuple
from trackplan.span import Source

from .places import Sources


class LineChange(NamedTuple):
    """Lines `old`, from line `line` (from 1) on, become `new`. With no `old`, `new` goes in after `line`."""

    path: str
    line: int
    old: tuple[str, ...]
    new: tuple[str, ...]


class _Stretch(NamedTuple):
    """Neighboring replacements, within lines `first` to `last` (from 0)."""

    first: int
    last: int
    parts: list[tuple[int, int, str]]


def changes(edits: Iterable[Edit], sources: Sources) -> Iterator[LineChange]:
    """What the edits do, in the order of files as the edits name them and of lines within a file."""
    by_file: dict[str, list[Edit]] = {}
    for edit in edits:
        by_file.setdefault(edit.at.path, []).append(edit)
    for path, parts in by_file.items():
        source = sources[path]
        for stretch in _stretches(source, parts):
            yield _change(source, stretch)


def _stretches(source: Source, edits: list[Edit]) -> list[_Stretch]:
    """The edits gathered so that no two stretches share a line."""
    found: list[_Stretch] = []
    for part in sorted(dict.fromkeys(resolve(source, edit) for edit in edits), key=lambda one: one[:2]):
        first, last = source.line_of(part[0]), source.line_of(part[1])
        if found and first <= found[-1].last:
            before = found.pop()
            found.append(_Stretch(before.first, max(last, before.last), [*before.parts, part]))
        else:
            found.append(_Stretch(first, last, [part]))
    return found


def _change(source: Source, stretch: _Stretch) -> LineChange:
    start = source.starts[stretch.first]
    after = stretch.last + 1
    stop = source.starts[after] if after < len(source.starts) else len(source.text)
    old = _lines(source.text[start:stop])
    new = _lines(_edited(source.text, start, stop, stretch.parts))
    tail = _alike(old[::-1], new[::-1])
    old, new = old[: len(old) - tail], new[: len(new) - tail]
    same = _alike(old, new)
    old, new = old[same:], new[same:]
    return LineChange(source.path, stretch.first + same + bool(old), tuple(old), tuple(new))


def _edited(text: str, start: int, stop: int, parts: list[tuple[int, int, str]]) -> str:
    pieces: list[str] = []
    for first, last, new in parts:
        pieces += text[start:first], new
        start = last
    return "".join(pieces) + text[start:stop]


def _lines(text: str) -> list[str]:
    """Lines without their ends; a line end at the very end leaves an empty last line."""
    return text.replace("\r\n", "\n").replace("\r", "\n").split("\n")


def _alike(one: list[str], other: list[str]) -> int:
    """How many first items are the same in both."""
    count = 0
    while count < min(len(one), len(other)) and one[count] == other[count]:
        count += 1
    return count
