"""The names that somebody may have meant."""

from __future__ import annotations

from collections.abc import Iterable


def near(word: str, known: Iterable[str]) -> str:
    """`; did you mean …?` where a known name is nearly `word`, else nothing."""
    from difflib import get_close_matches

    found = get_close_matches(word, list(known), n=3, cutoff=0.6)
    return f"; did you mean {' or '.join(found)}?" if found else ""
