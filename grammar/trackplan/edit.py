"""Edits of a plan's text, as places and new text, applied together. Knows no rule."""

from __future__ import annotations

from collections.abc import Iterable
from typing import NamedTuple

from .span import Source, Span


class Edit(NamedTuple):
    """Replaces a stretch of a file. With `line`, `text` becomes lines of their own after the line that holds
    `at.end` (a statement's last line), and nothing is replaced."""

    at: Span
    text: str
    line: bool = False


def replace(at: Span, text: str) -> Edit:
    """Puts `text` in the place of what stands at `at`."""
    return Edit(at, text)


def add_line(after: Span, text: str) -> Edit:
    """Puts `text` as a line of its own after the line in which `after` ends."""
    return Edit(Span(after.path, after.end, after.end), text, line=True)


def resolve(source: Source, edit: Edit) -> tuple[int, int, str]:
    """Start and end offset in the unmodified text, and the very characters to put there."""
    text = edit.text.replace("\n", source.newline)
    if not edit.line:
        return edit.at.start, edit.at.end, text
    line = source.line_of(edit.at.end)
    if line + 1 < len(source.starts):
        after = source.starts[line + 1]
        return after, after, text + source.newline
    return len(source.text), len(source.text), source.newline + text


def apply(source: Source, edits: Iterable[Edit]) -> str:
    """The text with all edits made. Equal edits count once; raises ValueError where two overlap."""
    text = source.text
    pieces: list[str] = []
    done = 0
    resolved = sorted(dict.fromkeys(resolve(source, edit) for edit in edits), key=lambda one: one[:2])
    for start, end, new in resolved:
        if start < done:
            raise ValueError(f"two edits of {source.path} overlap at character {start}")
        pieces += text[done:start], new
        done = end
    return "".join(pieces) + text[done:]
