"""A call that cannot be understood: raised wherever that is found out, told by `command.main` alone."""

from __future__ import annotations

from collections.abc import Iterable


class UsageError(Exception):
    """Why a call cannot be carried out as it was typed, in plain words. Nothing has been changed by then."""


def near(word: str, known: Iterable[str]) -> str:
    """`; did you mean …?` where a known name is nearly `word`, else nothing."""
    from difflib import get_close_matches

    found = get_close_matches(word, list(known), n=3, cutoff=0.6)
    return f"; did you mean {' or '.join(found)}?" if found else ""
