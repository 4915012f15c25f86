"""What to tell about a line that does not read: one message in the words of the trade, at the wrong word, and the line
as it was meant where that is clear."""

from __future__ import annotations

from ..comments import without_comments
from ..make import Senseless
from ..parse import Token, Unexpected, parse, tokens
from ..span import Span
from ..statements import Broken
from ..words import expected_after
from . import instinct, numbers, words
from .fault import Misreading

MISTAKES = (
    words.ends_too_soon,
    words.next_statement,
    words.stray_end,
    words.bad_quotes,
    words.bad_arrow,
    numbers.marked_feet,
    numbers.unit_first,
    numbers.bad_quantity,
    numbers.numbered_name,
    words.missing_quotes,
    words.quoted_name,
    words.split_keyword,
    words.stray_character,
    words.misspelled,
    words.nameless,
    words.left_out,
    words.anything_else,
)
HABITS = (
    instinct.marked_number,
    instinct.half_of_two,
    instinct.commas,
    instinct.numbered,
    instinct.capitals,
    instinct.synonym,
    instinct.without_dot,
    instinct.missing_word,
)
"""Told only where the line reads with what was meant."""
MOST_REPAIRS = 8
"""Mistakes of one line that are mended together."""


def explain(line: str, token: Token) -> Broken:
    """The one message about a line, at its first word that cannot stand there. Where all its mistakes are clear, what
    was meant is told for all at once. `line` is with its comments."""
    return _explained(line, token, MOST_REPAIRS)


def _explained(line: str, token: Token, depth: int) -> Broken:
    fault = _misreading(line, token)
    plain = next(told for mistake in MISTAKES if (told := mistake(fault)))
    habits = (told for habit in HABITS if (told := habit(fault)))
    for told in (*habits, plain) if depth else ():
        whole = _repaired(line, told, depth - 1)
        if whole is not None:
            return whole
    return plain


def _misreading(line: str, token: Token) -> Misreading:
    bare = without_comments(line)
    found = tokens(bare)
    place = next((at for at, one in enumerate(found) if one.start == token.start), len(found) - 1)
    before, after = found[:place], found[min(place + 1, len(found) - 1)]
    return Misreading(bare, before, token, after, expected_after(before), line)


def _repaired(line: str, told: Broken, depth: int) -> Broken | None:
    """The mistake with all later ones of the line, where it reads once they are mended; else None."""
    if told.meant is None:
        return None
    now = line[: told.at.start] + told.meant + line[told.at.end :]
    bare = without_comments(now)
    if not bare or bare[0].isspace():
        return None
    try:
        parse(bare)
        return told
    except Senseless:
        return None
    except Unexpected as fault:
        if fault.token.start < told.at.start or not depth:
            return None
        more = _explained(now, fault.token, depth)
    whole = _repaired(now, more, 0)
    return whole and _together(line, now[: more.at.start] + str(more.meant) + now[more.at.end :], told)


def _together(line: str, now: str, told: Broken) -> Broken:
    """What was meant, from the first mistake to the last."""
    most = min(len(line), len(now)) - told.at.start
    same = next((at for at in range(1, most + 1) if line[-at] != now[-at]), most + 1) - 1
    last = max(len(line) - same, told.at.end)
    return Broken(Span("", told.at.start, last), told.message, now[told.at.start : len(now) - (len(line) - last)])
