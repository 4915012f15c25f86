"""What to tell about a line that does not read: what was expected there, in the words of the trade."""

from __future__ import annotations

from .parse import Token
from .span import Span
from .statements import Broken


def explain(line: str, token: Token, states: list[int]) -> Broken:
    return Broken(Span("", token.start, token.end), "not understood")
