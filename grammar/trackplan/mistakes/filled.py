"""A line that does not read as the statement it could be: with all of the user's words that fit, and examples for what
is missing."""

from __future__ import annotations

from collections.abc import Callable

from ..comments import without_comments
from ..parse import END, Token, advance, in_place, tokens
from ..quantities import MEASURES
from ..tables import KEYWORDS, STATES
from ..words import follow
from .instinct import SYNONYMS

WORDS = {
    "name": "NAME", "end": "stop", "leg": "red", "supply": "main", "supplies": "main", "terminal": "P1",
    "fed_rail": "west", "cut_place": "T1.through", "solder_place": "T1.through", "scale_name": "HO",
    "endplate_name": "E", "booster_name": "B1", "district_name": "main", "turnout_name": "T1", "fed_frog": "T1",
    "mover_name": "T1", "table_end": "TT.lead", "lit_end": "siding.finish", "limit_name": "feeder-spacing",
    "rule_name": "unfed-frog", "accepted_name": "T1", "module_name": "quarry", "metal": "brass", "legs": "red",
}  # fmt: skip
"""What stands for a name that is missing, by the part that it is."""
USUAL = ("isolated-frog", "through", "diverging", "both", "left", "rail")
"""Words that are taken before others that are as short a way to the end of the line."""
CENTIMETERS = 10.0
"""The least that a bare number is taken for in centimeters, in an example."""
TRIED = 4_000
"""Steps of the search for the rest of a line."""


def filled_in(line: str) -> str | None:
    """The statement that the line begins, with what fits of it; None where it begins none."""
    states, found = [0], list[str]()
    for typed in tokens(_in_our_words(without_comments(line)))[:-1]:
        token = _with_unit(states, _known(states, typed))
        read = in_place(token, states)
        after = advance(states, read.kind)
        between = _bridge(states, token) if found and not after else []
        for kind in between:
            found.append(_example(states, kind))
            states = advance(states, kind)
        after = after or (advance(states, token.kind) if between else [])
        if after:
            found.append(token.text)
            states = after
        if not found:
            return None
    rest = _ways(states, lambda states: bool(advance(states, END)))
    if rest is None:
        return None
    for kind in rest:
        found.append(_example(states, kind))
        states = advance(states, kind)
    return " ".join(found)


def _in_our_words(line: str) -> str:
    """The line with its first word as the language has it."""
    first, blank, rest = line.partition(" ")
    known = SYNONYMS.get(first.lower(), first.lower())
    return f"{known}{blank}{rest}" if isinstance(known, str) and known in KEYWORDS else line


def _known(states: list[int], token: Token) -> Token:
    """A word of everyday speech as the keyword that it stands for, where only that fits."""
    if advance(states, in_place(token, states).kind):
        return token
    known = SYNONYMS.get(token.text.lower(), ())
    fitting = (one for one in (known if isinstance(known, tuple) else (known,)) if advance(states, one))
    meant = next(fitting, None)
    return Token(meant, meant, token.start) if meant else token


def _with_unit(states: list[int], token: Token) -> Token:
    """A bare number with the unit of the example, where a quantity is wanted and no number."""
    kind = next((one for one in MEASURES if advance(states, one)), None)
    if token.kind != "NUMBER" or kind is None or advance(states, "NUMBER"):
        return token
    unit = MEASURES[kind].example.partition(" ")[2]
    if unit == "cm" and float(token.text) < CENTIMETERS:
        unit = "m"
    return Token(kind, f"{token.text} {unit}", token.start)


def _bridge(states: list[int], token: Token) -> list[str]:
    """The few words that are missing before one of the user's; none where even then it does not fit."""
    return _ways(states, lambda states: bool(advance(states, token.kind)), longest=4) or []


def _ways(states: list[int], done: Callable[[list[int]], bool], longest: int = 12) -> list[str] | None:
    """The shortest row of kinds of words after which something holds."""
    queue: list[tuple[list[int], list[str]]] = [(states, [])]
    seen = {tuple(states)}
    for now, way in queue:
        if done(now):
            return way
        if len(way) == longest or len(seen) > TRIED:
            continue
        for kind in sorted((one for one in STATES[now[-1]] if one[0] not in "<$"), key=_unusual):
            after = advance(now, kind)
            if after and tuple(after) not in seen:
                seen.add(tuple(after))
                queue.append((after, [*way, kind]))
    return None


def _unusual(kind: str) -> tuple[int, str]:
    return USUAL.index(kind) if kind in USUAL else len(USUAL), kind


def _example(states: list[int], kind: str) -> str:
    if kind in KEYWORDS or kind == "->":
        return kind
    if kind in MEASURES:
        return MEASURES[kind].example
    if kind == "TEXT":
        return '"…"'
    return next((WORDS[role] for role in follow(tuple(states)).roles if role in WORDS), "NAME")
