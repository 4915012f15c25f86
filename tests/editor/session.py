"""A client with its server, in a folder of plans."""

from __future__ import annotations

import asyncio
import os
import sys
from collections.abc import Callable
from pathlib import Path

from lsprotocol import types
from pytest_lsp import LanguageClient

from house.files import ROOTS
from trackplan.edit import splice
from trackplan.span import Source, offset_at, units

SECONDS = 60
SERVE = [sys.executable, "-m", "railbond", "serve"]


def environment(*folders: Path) -> dict[str, str]:
    """Where the server finds this program, and what is installed in some folders."""
    return {**os.environ, "PYTHONPATH": os.pathsep.join(map(str, (*ROOTS.values(), *folders)))}


def capabilities(encoding: str) -> types.ClientCapabilities:
    """Those of a client that asks for an encoding, which for UTF-16 nobody has to."""
    resolve = types.ClientCodeActionResolveOptions(["edit"])
    wish = types.WorkspaceEditClientCapabilities(document_changes=True)
    return types.ClientCapabilities(
        general=types.GeneralClientCapabilities(position_encodings=[encoding] if encoding != "utf-16" else None),
        workspace=types.WorkspaceClientCapabilities(workspace_edit=wish),
        text_document=types.TextDocumentClientCapabilities(
            code_action=types.CodeActionClientCapabilities(resolve_support=resolve),
            rename=types.RenameClientCapabilities(prepare_support=True),
        ),
    )


class Session:
    """Documents are called by their names. What is found is waited for."""

    def __init__(self, client: LanguageClient, folder: Path) -> None:
        self.client, self.folder = client, folder
        self.encoding = "utf-16"
        self.texts: dict[str, str] = {}
        self.versions: dict[str, int] = {}

    async def begin(self, encoding: str = "utf-16") -> types.InitializeResult:
        self.encoding = encoding
        folders = [types.WorkspaceFolder(self.folder.as_uri(), "club")]
        params = types.InitializeParams(capabilities(encoding), workspace_folders=folders)
        return await self.client.initialize_session(params)

    def uri(self, name: str) -> str:
        return (self.folder / f"{name}.trackplan").as_uri()

    def document(self, name: str) -> types.TextDocumentIdentifier:
        return types.TextDocumentIdentifier(self.uri(name))

    def save(self, name: str, text: str) -> None:
        """Writes a file behind the editor's back."""
        (self.folder / f"{name}.trackplan").write_text(text, encoding="utf-8")

    async def open(self, name: str, text: str) -> list[types.Diagnostic]:
        self.texts[name], self.versions[name] = text, 1
        item = types.TextDocumentItem(self.uri(name), "trackplan", 1, text)
        self.client.diagnostics.pop(self.uri(name), None)
        self.client.text_document_did_open(types.DidOpenTextDocumentParams(item))
        return await self.findings(name)

    async def type(self, name: str, old: str, new: str) -> list[types.Diagnostic]:
        """Puts some text in the place of another, as one keystroke, and waits for what is found."""
        source = Source("", self.texts[name])
        start = source.text.index(old)
        where = types.Range(self.position(source, start), self.position(source, start + len(old)))
        self.texts[name] = source.text.replace(old, new, 1)
        self.versions[name] += 1
        document = types.VersionedTextDocumentIdentifier(self.versions[name], self.uri(name))
        change = types.TextDocumentContentChangePartial(where, new)
        self.client.diagnostics.pop(self.uri(name), None)
        self.client.text_document_did_change(types.DidChangeTextDocumentParams(document, [change]))
        return await self.findings(name)

    def close(self, name: str) -> None:
        self.client.text_document_did_close(types.DidCloseTextDocumentParams(self.document(name)))

    async def findings(self, name: str) -> list[types.Diagnostic]:
        """What is found in a document, once something has been told of it."""
        await self.until(lambda: self.uri(name) in self.client.diagnostics)
        return list(self.client.diagnostics[self.uri(name)])

    async def until(self, holds: Callable[[], bool]) -> None:
        async with asyncio.timeout(SECONDS):
            while not holds():
                await asyncio.sleep(0.005)

    def position(self, source: Source, offset: int) -> types.Position:
        line = source.line_of(offset)
        return types.Position(line, units(source.text[source.starts[line] : offset], self.encoding))

    def place(self, name: str, part: str) -> types.Position:
        return self.position(Source("", self.texts[name]), self.texts[name].index(part))

    def slice(self, name: str, where: types.Range) -> str:
        return self.texts[name][self._offset(name, where.start) : self._offset(name, where.end)]

    def _offset(self, name: str, place: types.Position) -> int:
        return offset_at(Source("", self.texts[name]), place.line, place.character, self.encoding)

    def made(self, name: str, edit: types.WorkspaceEdit | None) -> str:
        """A document after an edit that changes it alone, as it now stands."""
        assert edit and edit.document_changes
        (change,) = edit.document_changes
        assert isinstance(change, types.TextDocumentEdit)
        assert change.text_document.version == self.versions[name]
        edits = [
            (self._offset(name, one.range.start), self._offset(name, one.range.end), one.new_text)
            for one in change.edits
            if isinstance(one, types.TextEdit)
        ]
        return splice("", self.texts[name], sorted(edits))

    async def hover(self, name: str, place: types.Position) -> types.Hover | None:
        return await self.client.text_document_hover_async(types.HoverParams(self.document(name), place))

    async def actions(self, name: str, where: types.Range, *only: str) -> list[types.CodeAction]:
        context = types.CodeActionContext([], list(only) or None)
        params = types.CodeActionParams(self.document(name), where, context)
        found = await self.client.text_document_code_action_async(params)
        return [one for one in found or () if isinstance(one, types.CodeAction)]
