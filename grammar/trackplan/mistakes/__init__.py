"""What to tell about a line that does not read: one message in the words of the trade, at the wrong word."""

from __future__ import annotations

from ..parse import Token, tokens
from ..statements import Broken
from ..words import expected_after
from . import numbers, words
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
    words.misspelt,
    words.nameless,
    words.left_out,
    words.anything_else,
)


def explain(line: str, token: Token) -> Broken:
    """The one message about a line, at its first word that cannot stand there."""
    found = tokens(line)
    place = found.index(token)
    before, after = found[:place], found[min(place + 1, len(found) - 1)]
    fault = Misreading(line, before, token, after, expected_after(before))
    return next(told for mistake in MISTAKES if (told := mistake(fault)))
