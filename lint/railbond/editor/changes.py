"""Changes to documents as the editor takes them."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from itertools import accumulate

from lsprotocol.types import (
    OptionalVersionedTextDocumentIdentifier,
    TextDocumentEdit,
    TextEdit,
    WorkspaceEdit,
)

from trackplan.edit import Edit, Resolved, in_text
from trackplan.span import Source

from .view import View


def workspace_edit(view: View, edits: Mapping[str, Sequence[TextEdit]]) -> WorkspaceEdit:
    """Edits by path; with the version that they are meant for, where the editor understands that."""
    workspace = view.client.workspace
    if not (workspace and workspace.workspace_edit and workspace.workspace_edit.document_changes):
        return WorkspaceEdit(changes={view.places.uri(path): list(own) for path, own in edits.items()})
    return WorkspaceEdit(document_changes=[_document_edit(view, path, own) for path, own in edits.items()])


def _document_edit(view: View, path: str, edits: Sequence[TextEdit]) -> TextDocumentEdit:
    buffer = view.store.texts.buffers.get(path)
    version = buffer.version if buffer else None
    return TextDocumentEdit(OptionalVersionedTextDocumentIdentifier(view.places.uri(path), version), list(edits))


def edits_of(view: View, edits: Iterable[Edit], sources: Mapping[str, Source]) -> dict[str, list[TextEdit]]:
    """A fix's edits by path. Raises ValueError where one is to change what is not in the text."""
    found: dict[str, list[Edit]] = {}
    for edit in edits:
        found.setdefault(edit.at.path, []).append(edit)
    return {
        path: [view.places.edit(sources[path], one) for one in in_text(sources[path], own)]
        for path, own in found.items()
    }


def line_edits(view: View, source: Source, new: str) -> list[TextEdit]:
    """The lines that differ between a text and a new one, so that the editor's cursor and marks stay."""
    return [view.places.edit(source, one) for one in differing_lines(source, new)]


def differing_lines(source: Source, new: str) -> list[Resolved]:
    """The stretches of whole lines in which a new text differs."""
    old_lines, new_lines = _lines(source), _lines(Source("", new))
    ends = [0, *accumulate(map(len, old_lines))]
    return [
        (ends[first], ends[last], "".join(new_lines[start:stop]))
        for first, last, start, stop in _differences(old_lines, new_lines)
    ]


def _differences(old: list[str], new: list[str]) -> Iterator[tuple[int, int, int, int]]:
    if len(old) == len(new):
        yield from ((at, at + 1, at, at + 1) for at, line in enumerate(old) if line != new[at])
        return
    from difflib import SequenceMatcher

    for kind, *lines in SequenceMatcher(None, old, new).get_opcodes():
        if kind != "equal":
            yield lines[0], lines[1], lines[2], lines[3]


def _lines(source: Source) -> list[str]:
    return [text + end for text, end in source.lines()]
