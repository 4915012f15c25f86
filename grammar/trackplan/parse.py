"""One logical line to one statement, by the tables of plan.lark."""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import cache

from .former import FORMER
from .make import Make, Senseless, maker, only
from .quantities import MEASURES, Quantity, read_quantity
from .record import NamedTuple
from .span import Span, Word
from .statements import Statement
from .tables import KEYWORDS, PATTERN, RULES, STATES
from .typed import Any, cast

_as_word: Any = str.__new__
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
WORDS = re.compile(rf"\s*(?:{PATTERN}|(?P<other>\S))")
"""The words of the language, and where something else begins."""


@cache
def any_word() -> re.Pattern[str]:
    """The same, and what is no word: most processes never meet one, and need not wait for it."""
    return re.compile(rf"\s*(?:{PATTERN}{STRAY})")


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


Reduction = tuple[int, tuple[int | None, ...], Make]
"""How many values become one, which of them, and how."""


class ParseStep(NamedTuple):
    """What is done at a word: what is complete before it, whether it is a keyword, and the kind of any other value in
    its place; none for the line's end, and for a word that cannot stand there."""

    complete: tuple[Reduction, ...]
    is_keyword: bool
    kind: str | None


class LineShape(NamedTuple):
    """How a line reads, by the kinds of its words: step by step, as far as its first word that cannot stand where it
    does, which is `wrong`."""

    steps: tuple[ParseStep, ...]
    wrong: Token | None


MOST_SHAPES = 4_096
_shapes: dict[tuple[str, ...], LineShape] = {}
"""Plans say the same few things again and again: how a line reads hangs on nothing but the kinds of its words, and is
worked out for the first of each shape."""


def parse(text: str) -> Statement:
    """The statement that a line holds, placed as if it began its file. Raises Unexpected or Senseless."""
    found = _words(text, WORDS)
    key = tuple([word if word in FORMER else kind for kind, word, _ in found])
    shape = _shapes.get(key)
    if shape is None:
        if "other" in key:
            found = _words(text, any_word())
        shape = shape_of(found)
        if shape.wrong is None and len(_shapes) < MOST_SHAPES:
            _shapes[key] = shape
    statement = made(shape.steps, found)
    if shape.wrong is not None:
        raise Unexpected(shape.wrong)
    return cast("Statement", tuple.__new__(type(statement), (Span("", 0, len(text)), *statement[1:])))


def reads(text: str) -> bool:
    """Whether a line is a whole statement. Of one that is not, no more is looked at than its first word that cannot
    stand where it does: many guesses at what was meant are asked of a line."""
    states = [0]
    for match in any_word().finditer(text):
        word = match[match.lastindex or 0]
        token = Token(word if word in SPELLED else match.lastgroup or "", word, match.end() - len(word))
        if not (states := advance(states, in_place(token, states).kind)):
            return False
    try:
        return bool(advance(states, END) and parse(text))
    except (Unexpected, Senseless):
        return False


def made(steps: tuple[ParseStep, ...], found: list[tuple[str, str, int]]) -> Any:
    """What the words of a line say, when they are read by these steps; None of no words."""
    values: list[Any] = []
    lead: tuple[Word, ...] = ()
    for (complete, is_keyword, kind), (_, text, start) in zip(steps, found, strict=False):
        for size, kept, make in complete:
            parts = values[-size:]
            values[-size:] = [make([None if place is None else parts[place] for place in kept])]
        if kind in MEASURES:
            value: Any = value_of(kind, text, start)
            value.lead, lead = lead, ()
        elif is_keyword or kind is not None:  # a word as `Word` makes it, without the call: a long plan has many
            value = _as_word(Word, text)
            value.start, value.end, value.lead = start, start + len(text), () if is_keyword else lead
            lead = (*lead, value) if is_keyword else ()
        else:
            continue
        values.append(value)
    return values[0] if values else None


def shape_of(found: list[tuple[str, str, int]]) -> LineShape:
    """How a line of these words reads."""
    states, steps = [0], list[ParseStep]()
    for token in map(Token._make, found):
        action = STATES[states[-1]].get(token.kind)
        if token.text in FORMER or ((action is None or action < 0) and token.kind in KEYWORDS):
            token = in_place(token, states)
            action = STATES[states[-1]].get(token.kind)
        complete: list[Reduction] = []
        while action is not None and action < 0:
            complete += reduce(~action, states)
            action = STATES[states[-1]].get(token.kind)
        is_value = action is not None and token.kind != END
        is_keyword = is_value and token.kind in KEYWORDS
        steps.append(ParseStep(tuple(complete), is_keyword, token.kind if is_value else None))
        if action is None:
            break
        states.append(action)
    return LineShape(tuple(steps), token if STATES[states[-1]] else None)  # nothing can follow only a whole statement


def reduce(number: int, states: list[int]) -> Iterator[Reduction]:
    """Puts a complete rule in the place of its symbols, and gives what it makes of them, where that is anything new."""
    name, size, kept, make, same = COMPLETED[number]
    del states[-size:]
    states.append(STATES[states[-1]][name])
    if not same:
        yield size, kept, make


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


def value_of(kind: str, text: str, start: int) -> Quantity:
    try:
        return read_quantity(kind, text, start)
    except ValueError as error:
        raise Senseless(start, start + len(text), str(error)) from None


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
    return map(Token._make, _words(text, any_word()))


def _words(text: str, pattern: re.Pattern[str]) -> list[tuple[str, str, int]]:
    """Kind, text and place of each word. It is what reading a plan takes longest for, so no more is made of them."""
    found = []
    for match in pattern.finditer(text):
        word = match[match.lastindex or 0]
        found.append((word if word in SPELLED else match.lastgroup or "", word, match.end() - len(word)))
    found.append((END, "", len(text)))
    return found
