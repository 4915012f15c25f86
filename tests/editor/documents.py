"""Open documents without an editor: plans by name, one of them with a cursor `¦` in it."""

from __future__ import annotations

from lsprotocol.types import ClientCapabilities, Position, Range, TextDocumentIdentifier, TextEdit, WorkspaceEdit

from railbond.editor.places import Places
from railbond.editor.store import PlanStore
from railbond.editor.texts import Buffer
from railbond.editor.view import View
from trackplan.edit import splice
from trackplan.span import Source

CURSOR = "¦"
YARD = """\
plan      "Yard"
booster   B1    15 V  5 A
district  main  from B1  trips 4 A  legs red black
bus       main -> P1  3 m  14 AWG
segment   lead  W -> T1.points        90 cm
turnout   T1    left  number 6  isolated-frog
segment   line  T1.through -> J       90 cm
segment   more  J -> stop             90 cm
segment   dock  T1.diverging -> stop  90 cm
endplate  W     left black
frog      T1    switched through P1.red diverging P1.black
feeder    P1 -> lead
feeder    P1 -> line
feeder    P1 -> dock
feeder    main.red -> more.left
feeder    main.black -> more.right
limit     feeder-size    22 AWG
limit     feeder-length  20 cm
"""


class Documents:
    """Buffers in a folder that is on no disk; `at` is the cursor's place in the document that has one."""

    def __init__(self, encoding: str = "utf-16", client: ClientCapabilities | None = None, **texts: str) -> None:
        self.store = PlanStore()
        self.places = Places(self.store.texts, encoding)
        self.client = client or ClientCapabilities()
        self.at, self.path = Position(0, 0), ""
        for name, text in texts.items():
            self.put(name, text)

    def put(self, name: str, text: str) -> None:
        path = path_of(name)
        before, cursor, after = text.partition(CURSOR)
        self.store.texts.buffers[path] = Buffer(before + after, 1, f"file://{path}")
        if cursor or not self.path:
            self.path = path
            self.at = self.places.position(Source(path, before + after), len(before))

    @property
    def view(self) -> View:
        return View(self.store, self.places, self.client, self.path)

    @property
    def document(self) -> TextDocumentIdentifier:
        return TextDocumentIdentifier(f"file://{self.path}")

    def text(self, name: str) -> str:
        return self.store.texts.open_text(path_of(name))

    def slice(self, where: Range, path: str = "") -> str:
        """The text of a range."""
        source = self.store.texts.source(path or self.path)
        return source.text[self.places.offset(source, where.start) : self.places.offset(source, where.end)]

    def made(self, edit: WorkspaceEdit) -> dict[str, str]:
        """The documents after an edit, by name: only those that it changes."""
        assert edit.changes is not None
        return {name_of(uri): self.edited(uri.removeprefix("file://"), list(own)) for uri, own in edit.changes.items()}

    def edited(self, path: str, edits: list[TextEdit]) -> str:
        source = self.store.texts.source(path)
        parts = [
            (self.places.offset(source, one.range.start), self.places.offset(source, one.range.end), one.new_text)
            for one in edits
        ]
        return splice(path, source.text, sorted(parts, key=lambda part: part[:2]))


def path_of(name: str) -> str:
    return f"/there/is/no/such/folder/{name}.trackplan"


def name_of(uri: str) -> str:
    return uri.rpartition("/")[2].removesuffix(".trackplan")
