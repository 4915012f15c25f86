"""Mistakes with names, keywords, arrows and quotes. Each function tells its own mistake, or None."""

from __future__ import annotations

import re
from functools import lru_cache

from ..parse import END, Token
from ..quantities import MEASURES, shorten
from ..span import Span
from ..statements import Broken
from ..tables import KEYWORDS
from ..words import STATEMENTS, expected_after
from .fault import Misreading

ARROW_LIKE = {"to", "-", "–", "—", ">", "="}
QUOTES = "“”„‟«»‘’‚\"' "
LONGEST_WORD = 40


def ends_too_soon(fault: Misreading) -> Broken | None:
    if fault.token.kind != END:
        return None
    last = fault.before[-1]
    message = f"the line ends too soon: after `{shorten(last.text)}`, {fault.wanted}"
    return Broken(Span("", last.start, last.end), message)


def next_statement(fault: Misreading) -> Broken | None:
    word = fault.token.text
    if fault.token.kind not in STATEMENTS or not fault.before:
        return None
    if "\n" in fault.line[fault.before[-1].end : fault.token.start]:
        message = f"an indented line goes on with the statement above it: start `{word}` at the left edge"
        return fault.tell(message)
    if fault.expected.ends:
        return fault.tell(f"one statement a line: start `{word}` on a line of its own")
    return None


def stray_end(fault: Misreading) -> Broken | None:
    if fault.token.text != "end" or fault.before:
        return None
    return fault.tell("`end` closes a `construction`, and none is open here")


def bad_quotes(fault: Misreading) -> Broken | None:
    kind, text, _ = fault.token
    if kind == "curly" or (kind == "unclosed" and text[0] == "'"):
        meant = f'"{text.strip(QUOTES)}"' if fault.takes("TEXT") else None
        return fault.tell('expected straight double quotes, such as `"Quarry Junction"`', meant)
    if kind == "unclosed":
        return fault.tell('this quote is never closed: expected another `"` on the same line', f'{text}"')
    return None


def missing_quotes(fault: Misreading) -> Broken | None:
    if not fault.takes("TEXT") or fault.takes("WORD") or not fault.token.text[0].isalnum():
        return None
    rest = fault.line[fault.token.start :]
    meant = None if re.search(r'["\n]', rest) else f'"{rest}"'
    return fault.tell(f"{fault.wanted}, not {fault.shown}", meant, len(fault.line))


def quoted_name(fault: Misreading) -> Broken | None:
    if fault.token.kind != "TEXT" or not fault.takes("WORD"):
        return None
    name = fault.token.text[1:-1]
    meant = name if re.fullmatch(r"[^\W\d_][\w-]*", name) and name not in KEYWORDS else None
    return fault.tell(f"names stand without quotes: {fault.wanted}", meant)


def bad_arrow(fault: Misreading) -> Broken | None:
    if "->" not in fault.expected.words:
        return None
    if fault.token.kind == "arrow" or fault.token.text in ARROW_LIKE:
        return fault.tell(f"expected an arrow, typed `->`, not {fault.shown}", "->")
    return None


def split_keyword(fault: Misreading) -> Broken | None:
    """`live frog` for `live-frog`."""
    meant = f"{fault.token.text}-{fault.after.text}".lower()
    if meant not in fault.expected.keywords:
        return None
    return fault.tell(f"{fault.wanted}, with its hyphen", meant, fault.after.end)


def stray_character(fault: Misreading) -> Broken | None:
    if fault.token.kind != "stray":
        return None
    char = fault.token.text
    if char == "." and fault.before:
        return fault.tell("expected a name right before and right after the point, such as `T1.points`")
    shown = f"`{char}`" if char.isascii() and char.isprintable() else f"U+{ord(char):04X}"
    return fault.tell(f"the character {shown} means nothing in a plan: {fault.wanted}")


def misspelled(fault: Misreading) -> Broken | None:
    meant = nearest(fault.token.text, fault.expected.keywords)
    if meant == f"un{fault.token.text}":
        return None  # the opposite is no slip of the fingers
    return fault.tell(f"{fault.wanted}, not {fault.shown}", meant) if meant else None


def nameless(fault: Misreading) -> Broken | None:
    """`turnout left number 6`, where `left` was taken for the name."""
    *earlier, last = fault.before or [fault.token]
    if last.kind != "WORD" or last.text not in KEYWORDS or not earlier:
        return None
    told = fault._replace(line=fault.line[: last.start], token=last, expected=expected_after(earlier))
    named = fault._replace(expected=expected_after([*earlier, last]))
    if not named.takes(last.text):
        return None
    return told.tell(f"{told.wanted.removeprefix('expected ')} is missing before `{last.text}`")


def left_out(fault: Misreading) -> Broken | None:
    """The word would be right after one that is missing: `4 A` after `trips`, an end after an arrow."""
    only_choice = len(fault.expected.words) == 1 and not fault.expected.roles
    if not only_choice and fault.token.kind not in MEASURES:
        return None
    fits = [word for word in fault.expected.words if can_follow(fault, word)]
    if len(fits) != 1:
        return None
    return fault.tell(f"{fault.wanted}, not {fault.shown}", f"{fits[0]} {fault.token.text}")


def can_follow(fault: Misreading, word: str) -> bool:
    ahead = expected_after([*fault.before, Token(word, word, 0)])
    return fault._replace(expected=ahead).takes(fault.token.kind)


def anything_else(fault: Misreading) -> Broken:
    return fault.tell(f"{fault.wanted}, not {fault.shown}")


@lru_cache(4096)
def nearest(word: str, right: tuple[str, ...]) -> str | None:
    """The right word that a mistyped one is near to, or the same in other letters' case."""
    from difflib import get_close_matches

    if not right or len(word) > LONGEST_WORD or not word[0].isalpha():
        return None
    typed = word.lower()
    alike = [one for one in right if len(set(one) & set(typed)) * 2 > len(set(one))]  # spares most comparisons
    return next(iter(get_close_matches(typed, alike, 1, 0.7)), None)
