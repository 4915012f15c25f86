"""The order of a railroad's parts, in which the order of a plan's lines has no say: of equals the first is told."""

from __future__ import annotations

import re
from functools import lru_cache

from .model import Meeting

NUMBERS = re.compile(r"(\d+)")

NaturalKey = tuple[str | int, ...]


@lru_cache(maxsize=4096)
def by_name(name: str) -> NaturalKey:
    """Names as people order them: `T2` before `T10`."""
    parts = NUMBERS.split(name)
    return tuple(int(part) if nth % 2 else part for nth, part in enumerate(parts))


def by_ends(meeting: Meeting) -> list[tuple[NaturalKey, str]]:
    """Meetings by the pieces that meet, whichever was said first."""
    ends = ((by_name(end.piece), end.end) for end in (meeting.one, meeting.other))
    return sorted(ends)
