"""A text read again after a keystroke: the lines around what was typed are read, and all others are taken over.

What is taken over is what `read` would make of it: each statement begins its own line at the left edge, so one that
begins before the line that was typed in, or behind it, is as it was, and at most its place has moved.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Collection, Sequence

from .read import BOM, FIRST, Reading, moved, read, with_plain_ends
from .span import Source
from .statements import Broken


class Rereader:
    """Reads files again and again; what each held last is known."""

    def __init__(self) -> None:
        self._known: dict[str, Reading] = {}

    def read(self, source: Source) -> Reading:
        """What `read` says of the text."""
        before = self._known.get(source.path)
        reading = self._known[source.path] = reread(source, before) if before else read(source)
        return reading._replace(broken=[*reading.broken])  # whoever gathers a plan adds to these

    def keep(self, paths: Collection[str]) -> None:
        """Lets go of all files but these."""
        self._known = {path: reading for path, reading in self._known.items() if path in paths}


def reread(source: Source, before: Reading) -> Reading:
    """What `read` says of a text, of which another one, or the same as it was before, has been read."""
    old, new = with_plain_ends(before.source.text), with_plain_ends(source.text)
    if any("construction" in text or text.find(BOM, 1) > 0 for text in (old, new)):  # where lines end hangs on others
        return read(source)
    shift = len(new) - len(old)
    begin = _begins_before(old, shared_start(old, new))
    behind = FIRST.search(old, max(len(old) - shared_end(old, new) + 1, begin, begin - shift))
    end = behind.start() if behind else len(old)
    typed = read(Source(source.path, new[begin : end + shift]))
    first, last = (bisect_left(before.statements, at, key=lambda one: one.at.start) for at in (begin, end))
    return Reading(
        source,
        [*before.statements[:first], *moved(typed.statements, begin), *moved(before.statements[last:], shift)],
        _broken(before, typed, begin, end, shift),
        [*before.lines[:first], *typed.lines, *before.lines[last:]],
    )


def _broken(before: Reading, typed: Reading, begin: int, end: int, shift: int) -> list[Broken]:
    """The broken lines, those that were read again between the others."""
    above = [one for one in before.broken if one.at.start < begin]
    below = [one for one in before.broken if one.at.start >= end]
    return [*above, *moved(typed.broken, begin), *moved(below, shift)]


def shared_start(one: Sequence[object], other: Sequence[object]) -> int:
    """How many characters two texts, or things two lists, have in common from their start on."""
    low, high = 0, min(len(one), len(other))
    while low < high:
        middle = (low + high + 1) // 2
        if one[low:middle] == other[low:middle]:
            low = middle
        else:
            high = middle - 1
    return low


def shared_end(one: Sequence[object], other: Sequence[object]) -> int:
    """The same from their end back."""
    low, high = 0, min(len(one), len(other))
    while low < high:
        middle = (low + high + 1) // 2
        if one[len(one) - middle : len(one) - low] == other[len(other) - middle : len(other) - low]:
            low = middle
        else:
            high = middle - 1
    return low


def _begins_before(text: str, at: int) -> int:
    """Where the last line begins before a place that begins a statement; else the start of the text."""
    while at > 0:
        start = text.rfind("\n", 0, at) + 1
        if start < at and text[start] != "#" and not text[start].isspace():
            return start
        at = start - 1
    return 0
