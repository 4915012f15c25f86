"""What the editor may ask, and the answer to each. `start` serves over standard input and output."""

from __future__ import annotations

import os
import sys
from collections.abc import Callable
from functools import partial
from typing import Any, BinaryIO, cast

from lsprotocol import types
from pygls.exceptions import JsonRpcException

from railbond.saying import harmless

from .actions import ALL_KIND, WIRE_KIND, actions, resolved
from .completion import completion
from .framing import FramedInput
from .hover import hover
from .linked import Refused
from .links import links, workspace_symbols
from .navigation import definition, highlights, prepare_rename, references, rename
from .outline import folding, formatting, symbols
from .places import changed, path_of
from .protocol import REQUEST_FAILED
from .server import PlanServer, watch_client
from .texts import Buffer
from .tokens import LEGEND, tokens, tokens_between
from .view import View

Ask = Callable[[View, Any], Any]
RAILROAD = "railbond/railroad"
"""Our own request: see `railroad.py`."""

ANSWERS: dict[str, tuple[Ask, Any]] = {
    types.TEXT_DOCUMENT_HOVER: (hover, None),
    types.TEXT_DOCUMENT_DEFINITION: (definition, None),
    types.TEXT_DOCUMENT_REFERENCES: (references, None),
    types.TEXT_DOCUMENT_DOCUMENT_HIGHLIGHT: (highlights, None),
    types.TEXT_DOCUMENT_PREPARE_RENAME: (prepare_rename, None),
    types.TEXT_DOCUMENT_RENAME: (rename, types.RenameOptions(prepare_provider=True)),
    types.TEXT_DOCUMENT_COMPLETION: (completion, types.CompletionOptions(trigger_characters=[".", " ", '"', "/"])),
    types.TEXT_DOCUMENT_DOCUMENT_SYMBOL: (symbols, None),
    types.TEXT_DOCUMENT_FOLDING_RANGE: (folding, None),
    types.TEXT_DOCUMENT_DOCUMENT_LINK: (links, types.DocumentLinkOptions()),
    types.TEXT_DOCUMENT_FORMATTING: (formatting, None),
    types.TEXT_DOCUMENT_SEMANTIC_TOKENS_FULL: (tokens, LEGEND),
    types.TEXT_DOCUMENT_SEMANTIC_TOKENS_RANGE: (tokens_between, LEGEND),
    types.TEXT_DOCUMENT_CODE_ACTION: (
        actions,
        types.CodeActionOptions([types.CodeActionKind.QuickFix, ALL_KIND, WIRE_KIND], resolve_provider=True),
    ),
}


def server() -> PlanServer:
    """A server that knows all answers."""
    made = PlanServer()
    for method, (ask, options) in ANSWERS.items():
        made.feature(method, options)(_answering(made, ask))
    for method, heed in NOTICES.items():
        made.feature(method)(partial(heed, made))
    made.feature(types.CODE_ACTION_RESOLVE)(_resolving(made))
    made.feature(RAILROAD)(_showing(made))
    made.feature(types.WORKSPACE_SYMBOL)(_of_the_workspace(made))
    made.feature(types.INITIALIZE)(partial(_beginning, made))
    return made


def start() -> None:
    """Serves until the editor goes away. What plug-ins print must not get among the answers."""
    out, sys.stdout = sys.stdout, sys.stderr
    served, framed = server(), FramedInput(sys.stdin.buffer)
    served.start_io(cast(BinaryIO, framed), out.buffer)
    sys.stderr.flush()
    os._exit(2 if framed.broken else not served.asked_to_stop)  # at once: what is still worked out is for nobody


def _answering(made: PlanServer, ask: Ask) -> Callable[[Any], Any]:
    async def answer(params: Any) -> Any:
        view = made.view(path_of(params.text_document.uri))
        return await made.work(partial(_asked, ask, view, params))

    return answer


def _asked(ask: Ask, view: View, params: Any) -> Any:
    """The answer; none about a document that is not there, and a plain word where it is refused."""
    try:
        return ask(view, params)
    except OSError:
        return None
    except Refused as refused:
        raise JsonRpcException(harmless(str(refused)), REQUEST_FAILED) from None


def _of_the_workspace(made: PlanServer) -> Callable[[types.WorkspaceSymbolParams], Any]:
    async def answer(params: types.WorkspaceSymbolParams) -> Any:
        places = made.places
        return await made.work(lambda: workspace_symbols(made.store, places, params))

    return answer


def _beginning(made: PlanServer, params: types.InitializeParams) -> None:
    watch_client(params.process_id)


def _resolving(made: PlanServer) -> Callable[[types.CodeAction], Any]:
    async def resolve(action: types.CodeAction) -> types.CodeAction:
        if action.edit or not isinstance(action.data, str):
            return action
        view = made.view(path_of(action.data))
        return await made.work(lambda: resolved(view, action))

    return resolve


def _showing(made: PlanServer) -> Callable[[Any], Any]:
    async def show(params: Any) -> Any:
        from .railroad import shown_railroad

        with made.first.picture():
            await made.first.first_findings()
            view = made.view(path_of(params.textDocument.uri))
            return await made.work(partial(_asked, shown_railroad, view, params))

    return show


def initialized(made: PlanServer, params: types.InitializedParams) -> None:
    """Takes the workspace's folders, and asks to be told when plans change on disk."""
    made.store.texts.folders = [path_of(folder.uri) for folder in made.workspace.folders.values()]
    workspace = made.client_capabilities.workspace
    watched = workspace.did_change_watched_files if workspace else None
    if watched and watched.dynamic_registration:
        options = types.DidChangeWatchedFilesRegistrationOptions([types.FileSystemWatcher("**/*.trackplan")])
        wish = types.Registration("plans", types.WORKSPACE_DID_CHANGE_WATCHED_FILES, options)
        made.client_register_capability(types.RegistrationParams([wish]))


def opened(made: PlanServer, params: types.DidOpenTextDocumentParams) -> None:
    document = params.text_document
    made.store.texts.look_around()
    made.put(path_of(document.uri), Buffer(document.text, document.version, document.uri))


def typed(made: PlanServer, params: types.DidChangeTextDocumentParams) -> None:
    path = path_of(params.text_document.uri)
    if before := made.store.texts.buffers.get(path):
        text = before.text
        for change in params.content_changes:
            text = changed(text, getattr(change, "range", None), change.text, made.places.encoding)
        made.put(path, before._replace(text=text, version=params.text_document.version))


def closed(made: PlanServer, params: types.DidCloseTextDocumentParams) -> None:
    made.put(path_of(params.text_document.uri), None)


def disk_changed(made: PlanServer, params: Any) -> None:
    """A save, or a change behind the editor's back: there may be other plans than before."""
    made.store.texts.look_around()
    made.inspect_soon()


def folders_changed(made: PlanServer, params: types.DidChangeWorkspaceFoldersParams) -> None:
    made.store.texts.folders = [path_of(folder.uri) for folder in made.workspace.folders.values()]
    made.inspect_soon()


def stopping(made: PlanServer, params: None) -> None:
    """The polite end, after which the exit status is 0."""
    made.asked_to_stop = True


NOTICES: dict[str, Callable[[PlanServer, Any], None]] = {
    types.INITIALIZED: initialized,
    types.SHUTDOWN: stopping,
    types.TEXT_DOCUMENT_DID_OPEN: opened,
    types.TEXT_DOCUMENT_DID_CHANGE: typed,
    types.TEXT_DOCUMENT_DID_CLOSE: closed,
    types.TEXT_DOCUMENT_DID_SAVE: disk_changed,
    types.WORKSPACE_DID_CHANGE_WATCHED_FILES: disk_changed,
    types.WORKSPACE_DID_CHANGE_WORKSPACE_FOLDERS: folders_changed,
}
