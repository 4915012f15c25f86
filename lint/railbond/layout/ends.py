"""What the words of the track name: a piece's end, the end of track, an endplate or a free joint."""

from __future__ import annotations

from collections.abc import Mapping

from trackplan.record import NamedTuple, new
from trackplan.span import Word
from trackplan.statements import Endplate, Statement
from trackplan.typed import Literal

from .model import EndAt, Piece
from .names import Names, begun, listed
from .symbols import PIECES


class EndMark(NamedTuple):
    """What an end can reach besides another end."""

    kind: Literal["stop", "endplate", "joint"]
    name: str

    def __str__(self) -> str:
        return self.name


STOP = EndMark("stop", "stop")

Target = EndAt | EndMark

ARMS = {"through": "left", "diverging": "right"}
"""What people call the arms of a wye, by what the language calls them: its left route is the through one."""


class Ends:
    """Every end of every piece, by the word that names it. `others` are ends that go by another name besides."""

    def __init__(self, names: Names, pieces: dict[str, Piece], others: Mapping[str, str]) -> None:
        self.names = names
        self.pieces = pieces
        self.named = {
            f"{name}.{end}": new(EndAt, (name, end)) for name, piece in pieces.items() for end in piece.template.ends
        }
        self.wholes: dict[str, list[str]] = {}
        for other, end in others.items():
            if end in self.named:
                self.named[other] = self.named[end]
                self.wholes.setdefault(other.rpartition(".")[0], []).append(other.rpartition(".")[2])

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

    def _undotted(self, statement: Statement, word: Word, whole: str, besides: str) -> EndMark | None:
        owner = self.names.defined.get(whole)
        if owner is None:
            return EndMark("joint", whole)
        if isinstance(owner, Endplate):
            return EndMark("endplate", whole)
        if isinstance(owner, PIECES) or whole in self.wholes:
            self._which_end(statement, word, whole, besides)
        else:
            self.names.unknown(statement, word, whole, "place where track ends", ())
        return None

    def _which_end(self, statement: Statement, word: Word, whole: str, besides: str) -> None:
        """Tells that a piece is named where one of its ends is meant."""
        if self.names.silent(whole):
            return
        ends = listed((f"{word}.{end}" for end in self._ends_of(whole)), "or")
        besides = besides if whole in self.pieces and self.pieces[whole].template.length else ""
        self.names.fault("unknown-name", statement, word, f"which end of `{word}`? Expected {ends}{besides}")
        self.names.missing.add(whole)

    def _unknown(self, statement: Statement, word: Word, whole: str) -> EndAt | None:
        """Tells that there is no such end, and gives the one that was probably meant."""
        piece, _, end = whole.rpartition(".")
        if piece in self.pieces or piece in self.wholes:
            guess = self._no_such_end(statement, word, piece, end)
        else:
            near = self.names.unknown(statement, word, piece, "segment or turnout", self.pieces, f".{end}")
            guess = self.named.get(f"{near}.{end}")
        if guess:
            self.names.missing.add(str(guess))
        return guess

    def _no_such_end(self, statement: Statement, word: Word, piece: str, end: str) -> EndAt | None:
        if self.names.silent(f"{piece}.{end}"):
            return None
        ends = self._ends_of(piece)
        near = ARMS.get(end) if set(ARMS.values()) <= set(ends) else None
        near = near or begun(end, ends) or self.names.near(end, ends)
        message = f"`{self.names.typed(piece)}` has no end `{end}`; its ends are {listed(ends)}"
        self.names.misspelled(statement, word, message, f"{piece}.{near}" if near else None)
        if near is None:
            self.names.missing.add(piece)
            return None
        return self.named[f"{piece}.{near}"]

    def _ends_of(self, whole: str) -> list[str]:
        """The names of a piece's ends, or of what stands for several pieces."""
        return self.wholes.get(whole) or list(self.pieces[whole].template.ends)
