"""A word that cannot stand where it does."""

from __future__ import annotations

from ..parse import Token
from ..quantities import shorten
from ..record import NamedTuple
from ..span import Span
from ..statements import Broken
from ..words import Expected, begins
from .phrases import describe


class Misreading(NamedTuple):
    """The word, the words around it, and what was expected in its place."""

    line: str
    before: list[Token]
    token: Token
    after: Token
    expected: Expected
    raw: str = ""
    """The line with its comments."""

    @property
    def shown(self) -> str:
        """The word as a message shows it."""
        return f"`{shorten(self.token.text)}`"

    @property
    def wanted(self) -> str:
        """What was expected, in words."""
        return "expected " + describe(self.line[: self.token.start].rstrip(), self.expected)

    def takes(self, kind: str) -> bool:
        """Whether a kind of word could stand here."""
        return kind in self.expected.words or any(kind in begins(f"<{role}>") for role in self.expected.roles)

    def tell(self, message: str, meant: str | None = None, end: int | None = None) -> Broken:
        """A message about the word, or about all from it to `end`; `meant` is what to type in that place."""
        return Broken(Span("", self.token.start, end or self.token.end), message, meant)
