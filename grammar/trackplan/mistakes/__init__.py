"""What to tell about a line that does not read: one message in the words of the trade, at the wrong word, and the line
as it was meant where that is clear."""

from __future__ import annotations

from ..comments import without_comments
from ..make import Senseless
from ..parse import Token, Unexpected, parse, tokens
from ..span import Span
from ..statements import Broken
from ..words import expected_after
from . import instinct, moved, numbers, words
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
    moved.other_comment,
    instinct.which_build,
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
    numbers.written_units,
    numbers.fractions,
    numbers.listed_numbers,
    instinct.numbered,
    instinct.scale_by_ratio,
    instinct.capitals,
    words.split_keyword,
    instinct.synonym,
    instinct.kind_of_two_words,
    instinct.missing_word,
    moved.other_comment,
    moved.glued,
    moved.hyphenated,
    moved.in_the_middle,
    moved.too_many_before,
)
"""Told only where the line reads with what was meant."""
MOVES = (
    moved.too_many,
    moved.out_of_order,
    moved.parted,
    instinct.without_dot,
    moved.connected,
    moved.no_keyword,
    moved.other_statement,
)
"""The same, where nothing else makes it read."""
MOST_REPAIRS = 8
"""Mistakes of one line that are mended together."""
LONGEST = 400
"""Characters of a line that a person may have typed; for a longer one only its first mistake is told."""


def explain(line: str, token: Token) -> Broken:
    """The one message about a line, at its first word that cannot stand there. Where all its mistakes are clear, what
    was meant is told for all at once. `line` is with its comments."""
    return _explained(line, token, MOST_REPAIRS if len(line) <= LONGEST else 0)


def _explained(line: str, token: Token, depth: int) -> Broken:
    fault = _misreading(line, token)
    mistake, plain = next((mistake, told) for mistake in MISTAKES if (told := mistake(fault)))
    ways = (*((way, depth) for way in HABITS), (lambda _: plain, 1))
    if mistake is not words.nameless or fault.before[-1].text in moved.FILLERS:
        ways += (*((way, depth) for way in MOVES), (lambda _: plain, depth))
    for way, deep in ways if depth else ():
        whole = (told := way(fault)) and _repaired(line, told, deep - 1)
        if whole:
            return whole
    return instinct.synonym(fault) or (None if fault.before else instinct.capitals(fault)) or plain


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
    if whole is None:
        return None
    start = min(told.at.start, more.at.start)
    return _together(line, now[: more.at.start] + str(more.meant) + now[more.at.end :], told, start)


def _together(line: str, now: str, told: Broken, start: int) -> Broken | None:
    """What was meant, from the first mistake to the last; None where that is what stands there already."""
    most = min(len(line), len(now)) - start
    same = next((at for at in range(1, most + 1) if line[-at] != now[-at]), most + 1) - 1
    last = max(len(line) - same, told.at.end)
    meant = now[start : len(now) - (len(line) - last)]
    return Broken(Span("", start, last), told.message, meant) if meant != line[start:last] else None
