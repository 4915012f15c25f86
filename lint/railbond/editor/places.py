"""Places of a text as the editor counts them: lines and columns from 0, in the units that were agreed."""

from __future__ import annotations

from typing import NamedTuple

from lsprotocol.types import Location, Position, Range, TextEdit
from pygls.uris import from_fs_path, to_fs_path

from trackplan.edit import Resolved
from trackplan.gather import normal
from trackplan.span import Source, Span, offset_at, units

from .texts import Texts


class Places(NamedTuple):
    """`encoding` is `utf-8`, `utf-16` or `utf-32`."""

    texts: Texts
    encoding: str

    def position(self, source: Source, offset: int) -> Position:
        line = source.line_of(offset)
        before = source.text[source.starts[line] : offset].rstrip("\r\n")
        return Position(line, units(before, self.encoding))

    def range(self, source: Source, start: int, end: int) -> Range:
        return Range(self.position(source, start), self.position(source, end))

    def span(self, source: Source, at: Span) -> Range:
        return self.range(source, at.start, at.end)

    def offset(self, source: Source, position: Position) -> int:
        """The offset of an editor's place; a stale one is clamped into the text."""
        return offset_at(source, position.line, position.character, self.encoding)

    def location(self, source: Source, at: Span) -> Location:
        return Location(self.uri(at.path), self.span(source, at))

    def edit(self, source: Source, resolved: Resolved) -> TextEdit:
        start, end, text = resolved
        return TextEdit(self.range(source, start, end), text)

    def uri(self, path: str) -> str:
        """The address of a file, as the editor itself calls it where it is open."""
        buffer = self.texts.buffers.get(path)
        return buffer.uri if buffer else from_fs_path(path) or path


def path_of(uri: str) -> str:
    """The path of a document; one that is on no disk yet goes by its address."""
    path = to_fs_path(uri) if uri.startswith("file:") else None
    return normal(path) if path and "\0" not in path else uri


def changed(text: str, edit_range: Range | None, new: str, encoding: str) -> str:
    """A text after one change that the editor reports; without a range it is the whole text."""
    if edit_range is None:
        return new
    source = Source("", text)
    start = offset_at(source, edit_range.start.line, edit_range.start.character, encoding)
    end = offset_at(source, edit_range.end.line, edit_range.end.character, encoding)
    return text[:start] + new + text[max(start, end) :]
