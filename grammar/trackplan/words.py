"""What may stand where in a line: for messages about broken lines, completion and highlighting."""

from __future__ import annotations

from collections.abc import Iterable
from functools import lru_cache

from .parse import END, Token, advance, tokens
from .record import NamedTuple
from .tables import KEYWORDS, RULES, STATES

STATEMENTS = tuple(symbol for symbol in STATES[0] if symbol in KEYWORDS)


class Expected(NamedTuple):
    """What may follow: `roles` are parts of plan.lark such as `supply`, `words` are keywords, `->` or kinds
    of word outside any role, and `ends` says whether the line may end here."""

    roles: tuple[str, ...]
    words: tuple[str, ...]
    ends: bool

    @property
    def keywords(self) -> tuple[str, ...]:
        """Every keyword that may follow, in a role or not."""
        firsts = (word for role in self.roles for word in sorted(begins(f"<{role}>")))
        return tuple(dict.fromkeys(word for word in (*self.words, *firsts) if word in KEYWORDS))


def expected(before: str) -> Expected:
    """What may follow the text of a line; nothing where that text is broken itself."""
    return expected_after(tokens(before)[:-1])


def expected_after(before: Iterable[Token]) -> Expected:
    """What may follow some words of a line."""
    states = [0]
    for token in before:
        states = advance(states, token.kind)
    return follow(tuple(states))


@lru_cache(4096)
def follow(states: tuple[int, ...]) -> Expected:
    """What may follow in a parse that has come to these states."""
    symbols = [one for one in STATES[states[-1]] if one[0] != "<"] if states else []
    after = {one: shifted for one in symbols if (shifted := advance(list(states), one))}
    ends = after.pop(END, None) is not None
    found = {symbol for shifted in after.values() for symbol in STATES[shifted[-2]] if symbol[0] == "<"}
    roles = [role for role in sorted(found) if not any(role in begins(other) for other in found)]
    words = [one for one in after if not any(one in begins(role) for role in roles)]
    return Expected(tuple(role[1:-1] for role in roles), tuple(words), ends)


@lru_cache(None)
def begins(role: str) -> frozenset[str]:
    """Every symbol that a rule can begin with."""
    firsts = {symbols[0] for name, symbols, _ in RULES if name == role} - {role}
    return frozenset(firsts.union(*(begins(one) for one in firsts if one[0] == "<")))
