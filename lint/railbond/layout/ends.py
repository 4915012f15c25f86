"""What the words of the track name: a piece's end, the end of track, an endplate or a free joint."""

from __future__ import annotations

from typing import Literal, NamedTuple

from trackplan.span import Word
from trackplan.statements import Endplate, Statement

from .kinds import PIECES
from .model import EndAt, Piece
from .names import Names, listed


class Mark(NamedTuple):
    """What an end can reach besides another end."""

    kind: Literal["stop", "endplate", "joint"]
    name: str

    def __str__(self) -> str:
        return self.name


STOP = Mark("stop", "stop")

Target = EndAt | Mark


class Ends:
    """Every end of every piece, by the word that names it."""

    def __init__(self, names: Names, pieces: dict[str, Piece]) -> None:
        self.names = names
        self.pieces = pieces
        self.named = {
            f"{name}.{end}": EndAt(name, end) for name, piece in pieces.items() for end in piece.template.ends
        }

    def target(self, statement: Statement, word: Word, besides: str = "") -> Target | None:
        """What a word of the track names; None, and a fault, where it names nothing that track can meet.

        `besides` says what may stand there, besides one of its ends, where a segment is named.
        """
        whole = self.names.whole(word)
        if end := self.named.get(whole):
            return end
        if word == "stop":
            return STOP
        if "." in word:
            return self._unknown(statement, word, whole)
        return self._undotted(statement, word, whole, besides)

    def _undotted(self, statement: Statement, word: Word, whole: str, besides: str) -> Mark | None:
        owner = self.names.defined.get(whole)
        if owner is None:
            return Mark("joint", whole)
        if isinstance(owner, Endplate):
            return Mark("endplate", whole)
        if isinstance(owner, PIECES):
            self._which_end(statement, word, whole, besides)
        else:
            self.names.unknown(statement, word, whole, "place where track ends", ())
        return None

    def _which_end(self, statement: Statement, word: Word, whole: str, besides: str) -> None:
        """Tells that a piece is named where one of its ends is meant."""
        if self.names.silent(whole):
            return
        template = self.pieces[whole].template
        ends = listed((f"{word}.{end}" for end in template.ends), "or")
        besides = besides if template.length else ""
        self.names.fault("unknown-name", statement, word, f"which end of `{word}`? Expected {ends}{besides}")
        self.names.missing.add(whole)

    def _unknown(self, statement: Statement, word: Word, whole: str) -> EndAt | None:
        """Tells that there is no such end, and gives the one that was probably meant."""
        piece, _, end = whole.rpartition(".")
        if piece in self.pieces:
            guess = self._no_such_end(statement, word, piece, end)
        else:
            near = self.names.unknown(statement, word, piece, "segment or turnout", self.pieces, f".{end}")
            guess = self.named.get(f"{near}.{end}")
        if guess:
            self.names.missing.add(str(guess))
        return guess

    def _no_such_end(self, statement: Statement, word: Word, piece: str, end: str) -> EndAt | None:
        if self.names.silent(piece):
            return None
        ends = self.pieces[piece].template.ends
        near = self.names.near(end, ends)
        message = f"`{self.names.typed(piece)}` has no end `{end}`; its ends are {listed(ends)}"
        self.names.misspelt(statement, word, message, f"{piece}.{near}" if near else None)
        if near is None:
            self.names.missing.add(piece)
            return None
        return EndAt(piece, near)
