"""Every handler of the language server, asked about any place of a document, also of one that is being typed."""

from __future__ import annotations

import json
from random import Random
from types import SimpleNamespace
from typing import Any

from lsprotocol import types

from editor.documents import Documents
from fuzz.running import Target
from railbond.editor.actions import resolved
from railbond.editor.diagnostics import diagnostics
from railbond.editor.features import ANSWERS
from railbond.editor.linked import Refused
from railbond.editor.links import workspace_symbols
from railbond.editor.places import changed
from railbond.editor.railroad import shown_railroad
from railbond.editor.texts import Buffer

ENCODINGS = ("utf-8", "utf-16", "utf-32")


def place(text: str, dice: Random) -> types.Position:
    """A place in the text or, as editors that lag behind have it, somewhat outside."""
    lines = text.split("\n")
    line = dice.randrange(len(lines) + 2)
    width = len(lines[line]) if line < len(lines) else 0
    return types.Position(line, dice.randrange(width + 3))


def between(text: str, dice: Random) -> types.Range:
    ends = sorted((place(text, dice), place(text, dice)), key=lambda one: (one.line, one.character))
    return types.Range(*ends)


def whole(text: str) -> types.Range:
    return types.Range(types.Position(0, 0), types.Position(text.count("\n") + 1, 0))


def asked(method: str, documents: Documents, text: str, dice: Random) -> Any:
    """The answer to a request of any kind. A refusal in words is one."""
    document, at = documents.document, place(text, dice)
    where = whole(text) if dice.random() < 0.5 else between(text, dice)
    context = types.CodeActionContext([])
    params: dict[str, Any] = {
        types.TEXT_DOCUMENT_REFERENCES: types.ReferenceParams(types.ReferenceContext(True), document, at),
        types.TEXT_DOCUMENT_RENAME: types.RenameParams(document, at, dice.choice(("new", "T1", "a b", "", "stop"))),
        types.TEXT_DOCUMENT_CODE_ACTION: types.CodeActionParams(document, where, context),
        types.TEXT_DOCUMENT_SEMANTIC_TOKENS_RANGE: types.SemanticTokensRangeParams(document, where),
        types.TEXT_DOCUMENT_FORMATTING: types.DocumentFormattingParams(document, types.FormattingOptions(4, True)),
    }
    ask = ANSWERS[method][0]
    try:
        return ask(documents.view, params.get(method) or types.HoverParams(document, at))
    except (Refused, OSError):
        return None


def handler(method: str) -> Target:
    def work(text: str, dice: Random) -> None:
        documents = Documents(dice.choice(ENCODINGS), p=text)
        answer = asked(method, documents, documents.text("p"), dice)
        if method == types.TEXT_DOCUMENT_CODE_ACTION and answer:
            actions_can_be_made(documents, answer)
        if method == types.TEXT_DOCUMENT_FORMATTING and answer:
            documents.edited(documents.path, answer)

    return work


def actions_can_be_made(documents: Documents, actions: list[types.CodeAction]) -> None:
    """Each action's edit fits the text; that of the one for all is worked out first."""
    for action in actions:
        edit = action.edit or resolved(documents.view, action).edit
        assert edit is not None
        documents.made(edit)


def typing(text: str, dice: Random) -> None:
    """Findings and one more answer after each of a few changes as editors send them."""
    documents = Documents(dice.choice(ENCODINGS), p=text)
    for _ in range(3):
        where, new = between(text, dice), dice.choice(("", "x", "\n", " crossed", "é𐐀", "gap T1.through left rail\n"))
        text = changed(text, where, new, documents.places.encoding)
        documents.store.texts.buffers[documents.path] = Buffer(text, 1, f"file://{documents.path}")
        diagnostics(documents.store.plan(documents.path), documents.places)
        asked(dice.choice(list(ANSWERS)), documents, text, dice)


def of_the_workspace(text: str, dice: Random) -> None:
    """Names of all plans that are open, by any letters."""
    documents = Documents(dice.choice(ENCODINGS), p=text, q="segment west stop -> stop 1 m\n")
    asked_for = dice.choice(("", "t", "we", "\0", "É", text[:5]))
    workspace_symbols(documents.store, documents.places, types.WorkspaceSymbolParams(asked_for))


def beside_the_text(text: str, dice: Random) -> None:
    """The live page of an editor's panel: it is told what is shown, or why the last picture stays."""
    documents = Documents(dice.choice(ENCODINGS), p=text)
    try:
        answer = shown_railroad(documents.view, SimpleNamespace(page=dice.random() < 0.3))
    except (Refused, OSError):
        return
    assert ("shown" in answer) != ("stale" in answer)
    json.loads(json.dumps(answer))


EDITOR: dict[str, Target] = {f"server {name.rpartition('/')[2]}": handler(name) for name in ANSWERS}
EDITOR["server typing"] = typing
EDITOR["server symbol"] = of_the_workspace
EDITOR["server railroad"] = beside_the_text
