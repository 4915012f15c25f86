"""One logical line to one statement, by the tables of plan.lark."""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import cache

from .former import FORMER
from .make import Make, Senseless, maker, only
from .record import NamedTuple, new
from .shapes import KEYWORD, SPELLED, LineShape, ParseStep, Reduction, by_pattern, made, meet, picking
from .span import Span
from .statements import Statement
from .tables import KEYWORDS, PATTERN, RULES, STATES
from .typed import Any

END = "$END"

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


class Rules(dict[int, Completed]):
    """By their numbers, each when it is first asked for: a plan has few of the rules there are."""

    def __missing__(self, number: int) -> Completed:
        rule = self[number] = completed(*RULES[number])
        return rule


COMPLETED = Rules()


MOST_SHAPES = 4_096
_shapes: dict[tuple[str, ...], LineShape] = {}
"""Plans say the same few things again and again: how a line reads hangs on nothing but the kinds of its words, and is
worked out for the first of each shape."""


def parse(text: str) -> Statement:
    """The statement that a line holds, placed as if it began its file. Raises Unexpected or Senseless."""
    kind, parts = by_pattern(text) or _by_words(text)
    statement: Statement = new(kind, (_whole(len(text)), *parts))
    return statement


@cache
def _whole(length: int) -> Span:
    """The place of a statement of so many characters that begins its file: the same for all of them."""
    return Span("", 0, length)


def _by_words(text: str) -> Any:
    """Kind and parts of the statement of a line whose words are found one by one."""
    found = _words(text, WORDS)
    key = tuple([word if word in FORMER else kind for kind, word, _ in found])
    shape = _shapes.get(key)
    if shape is None:
        if "other" in key:
            found = _words(text, any_word())
        shape = shape_of(found)
        if shape.wrong is None and len(_shapes) < MOST_SHAPES:
            _shapes[key] = shape
    _, texts, starts = zip(*found, strict=True)
    said = made(shape.steps, texts, [(start, start + len(text)) for text, start in zip(texts, starts, strict=True)])
    if shape.wrong is not None:
        raise Unexpected(shape.wrong)
    meet(key, shape)
    return said


def reads(text: str) -> bool:
    """Whether a line is a whole statement. Of one that is not, no more is looked at than its first word that cannot
    stand where it does: many guesses at what was meant are asked of a line."""
    states = [0]
    for match in any_word().finditer(text):
        word = match[0].lstrip()
        token = Token(word if word in SPELLED else match.lastgroup or "", word, match.end() - len(word))
        if not (states := advance(states, in_place(token, states).kind)):
            return False
    try:
        return bool(advance(states, END) and parse(text))
    except (Unexpected, Senseless):
        return False


def shape_of(found: list[tuple[str, str, int]]) -> LineShape:
    """How a line of these words reads."""
    states, steps, values, count = [0], list[ParseStep](), list[int](), 1
    for token in map(Token._make, found):
        action = STATES[states[-1]].get(token.kind)
        if token.text in FORMER or ((action is None or action < 0) and token.kind in KEYWORDS):
            token = in_place(token, states)
            action = STATES[states[-1]].get(token.kind)
        complete: list[Reduction] = []
        while action is not None and action < 0:
            rule = COMPLETED[~action]
            del states[-rule.size :]
            states.append(STATES[states[-1]][rule.name])
            if not rule.same:
                parts, values[-rule.size :] = values[-rule.size :], [count]
                places = [0 if place is None else parts[place] for place in rule.kept]
                complete.append((places, picking(places), rule.make))
                count += 1
            action = STATES[states[-1]].get(token.kind)
        is_value = action is not None and token.kind != END
        kind = KEYWORD if token.kind in KEYWORDS else token.kind
        steps.append(ParseStep(tuple(complete), kind if is_value else None))
        if action is None:
            break
        states.append(action)
        values.append(count)
        count += 1
    return LineShape(tuple(steps), token if STATES[states[-1]] else None)  # nothing can follow only a whole statement


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
        word = match[0].lstrip()
        found.append((word if word in SPELLED else match.lastgroup or "", word, match.end() - len(word)))
    found.append((END, "", len(text)))
    return found
