"""One logical line to one statement, by the tables of plan.lark."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Any, NamedTuple, cast

from .former import FORMER
from .make import Make, Senseless, maker, only
from .quantities import MEASURES, Quantity, read_quantity
from .span import Span, Word
from .statements import Statement
from .tables import KEYWORDS, PATTERN, RULES, STATES

END = "$END"
SPELLED = KEYWORDS | {"->"}

# What is no word of the language, cut so that a message can tell what was meant.
STRAY = (
    r"|(?P<arrow>[=~–—−-]{1,3}\s?>|[=–—-]{2,3}|[→⇒⟶➔➜])"
    r"|(?P<curly>[“”„‟«»‘’‚][^“”„‟«»‘’‚\"\n]*[“”„‟«»‘’‚\"]?)"
    r"|(?P<unclosed>\"[^\n]*|'[^'\n]*'?)"
    r"|(?P<figure>[+−-]?\.?[0-9][\w.,/%+-]*)"
    r"|(?P<stray>\S)"
)
TOKEN = re.compile(rf"\s*(?:{PATTERN}{STRAY})")


class Token(NamedTuple):
    """A word and its kind: a keyword itself, a terminal of plan.lark, or a group of STRAY."""

    kind: str
    text: str
    start: int

    @property
    def end(self) -> int:
        return self.start + len(self.text)


class Unexpected(Exception):
    """A word that cannot stand where it does."""

    def __init__(self, token: Token) -> None:
        super().__init__(token)
        self.token = token


class Completed(NamedTuple):
    """A rule whose symbols have all been read, and what to do then. `same`: its one part is its result."""

    name: str
    size: int
    kept: tuple[int | None, ...]
    make: Make
    same: bool


def completed(name: str, symbols: tuple[str, ...], kept: tuple[int | None, ...]) -> Completed:
    make = maker(name[1:-1])
    return Completed(name, len(symbols), kept, make, make is only and len(symbols) == 1)


COMPLETED = [completed(*rule) for rule in RULES]


def parse(text: str) -> Statement:
    """The statement that a line holds, placed as if it began its file. Raises Unexpected or Senseless."""
    states: list[int] = [0]
    values: list[Any] = []
    lead: tuple[Word, ...] = ()
    for token in words(text):
        action = STATES[states[-1]].get(token.kind)
        if token.text in FORMER or ((action is None or action < 0) and token.kind in KEYWORDS):
            token = in_place(token, states)
            action = STATES[states[-1]].get(token.kind)
        while action is not None and action < 0:
            reduce(~action, states, values)
            action = STATES[states[-1]].get(token.kind)
        if action is None:
            break
        states.append(action)
        value = value_of(token)
        if token.kind in KEYWORDS:
            lead = (*lead, cast("Word", value))
        else:
            value.lead, lead = lead, ()
        values.append(value)
    if STATES[states[-1]]:  # only after a whole statement nothing can follow
        raise Unexpected(token)
    statement: Statement = values[0]
    return statement._replace(at=Span("", 0, len(text)))


def reduce(number: int, states: list[int], values: list[Any]) -> None:
    """Puts what a complete rule makes in the place of its symbols."""
    name, size, kept, make, same = COMPLETED[number]
    if not same:
        parts = values[-size:]
        values[-size:] = [make([None if place is None else parts[place] for place in kept])]
    del states[-size:]
    states.append(STATES[states[-1]][name])


def in_place(token: Token, states: list[int]) -> Token:
    """A word that is spelled like a keyword is a name where the grammar cannot take that keyword but can a name; a
    former keyword is the new one where that can stand."""
    if token.text in FORMER and takes(states, FORMER[token.text]):
        return token._replace(kind=FORMER[token.text])
    if token.kind in KEYWORDS and not takes(states, token.kind) and takes(states, "WORD"):
        return token._replace(kind="WORD")
    return token


def takes(states: list[int], kind: str) -> bool:
    """Whether a parse that has come to these states can go on with such a word."""
    action = STATES[states[-1]].get(kind)
    return action is not None and (action >= 0 or bool(advance(states, kind)))


def advance(states: list[int], kind: str) -> list[int]:
    """The states of a parse after one more word; none where that word cannot stand there."""
    states = states[:]
    while (action := STATES[states[-1]].get(kind) if states else None) is not None:
        if action >= 0:
            return [*states, action]
        del states[-COMPLETED[~action].size :]
        states.append(STATES[states[-1]][COMPLETED[~action].name])
    return states if kind == END and states and not STATES[states[-1]] else []


def value_of(token: Token) -> Word | Quantity:
    kind, text, start = token
    if kind not in MEASURES:
        return Word(text, start)
    try:
        return read_quantity(kind, text, start)
    except ValueError as error:
        raise Senseless(start, token.end, str(error)) from None


def tokens(text: str) -> list[Token]:
    """The words of a line, each as what it is in its place, and last the line's end. After the first word that cannot
    stand where it does, whatever is spelled like a keyword is one."""
    states, found = [0], []
    for token in words(text):
        if states:
            token = in_place(token, states)
            states = advance(states, token.kind)
        found.append(token)
    return found


def words(text: str) -> Iterator[Token]:
    """The words of a line, all that are spelled like a keyword as that, and last its end."""
    for match in TOKEN.finditer(text):
        word = match[match.lastindex or 0]
        kind = word if word in SPELLED else match.lastgroup or ""
        yield Token(kind, word, match.end() - len(word))
    yield Token(END, "", len(text))
