"""The order of a railroad's parts, in which the order of a plan's lines has no say: of equals the first is told."""

from __future__ import annotations

import re
from functools import lru_cache

from .model import Layout, Supply

NUMBERS = re.compile(r"\d+")

MOST_NAMES = 1 << 17
"""Names whose keys are kept: more than a plan of 100,000 lines has, and each is asked for many times."""


@lru_cache(MOST_NAMES)
def by_name(name: str) -> str:
    """A key by which names are ordered as people order them: `T2` before `T10`, and `main` before `R1`. Before a number
    stands how many digits it has, and before the name itself, which decides between `T1` and `T01`, its key's end."""
    return f"{NUMBERS.sub(_by_amount, name.casefold())}\0{name}"


def _by_amount(digits: re.Match[str]) -> str:
    """Digits by the number that they are, however long it is: Python makes no number of more than 4,300."""
    told = digits[0].lstrip("0")
    return f"\1{chr(len(told))}{told}"


def supplies_by_name(layout: Layout) -> list[tuple[str, Supply]]:
    """The supplies, each with its name."""
    return sorted(layout.supplies.items(), key=lambda one: by_name(one[0]))
