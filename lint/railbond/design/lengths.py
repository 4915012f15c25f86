"""Lengths as the plan tells its own: in meters, or in feet and inches."""

from __future__ import annotations

import re
from math import ceil
from typing import NamedTuple

from railbond.fixes.fix_edits import length_words

INCH = 0.0254
FOOT = 12 * INCH
INCHES_ALONE = 24
"""Inches up to which a length is told without feet."""
IN_FEET = re.compile(r"(?<![\w.-])\d+(?:\.\d+)?\s*(?:ft|in)\b")
IN_METERS = re.compile(r"(?<![\w.-])\d+(?:\.\d+)?\s*(?:mm|cm|m)\b")
ROUNDING = 1e-6


class Lengths(NamedTuple):
    """How lengths are written: the steps to which places are rounded where they can be, bus runs and drops are rounded
    up, all in meters; and what the first run from a booster is thought to take."""

    feet: bool = False
    steps: tuple[float, float] = (0.1, 0.05)
    bus: float = 0.1
    drop: float = 0.05
    first: float = 1.0

    def words(self, meters: float) -> str:
        """`35 cm`, `1.2 m`; `18 in`, `6 ft 2 in`."""
        if not self.feet:
            return length_words(round(meters, 2))
        inches = round(meters / INCH, 1)
        if inches < INCHES_ALONE:
            return f"{inches:g} in"
        feet, rest = divmod(inches, 12)
        return f"{feet:.0f} ft" + (f" {round(rest, 1):g} in" if rest else "")

    def about(self, meters: float) -> str:
        """For a reason: `4.2 m`, `14 ft`."""
        return f"{meters / FOOT:.3g} ft" if self.feet else f"{meters:.3g} m"

    def up(self, meters: float, step: float) -> float:
        """A length rounded up to a step, one at least."""
        return max(ceil(meters / step - ROUNDING), 1) * step


METERS = Lengths()
FEET = Lengths(True, (3 * INCH, INCH), 3 * INCH, INCH, 3 * FOOT)


def lengths_of(text: str) -> Lengths:
    """The lengths of a plan: as it tells those of most of its track."""
    track = [line for line in text.splitlines() if line.lstrip().startswith("segment")]
    feet, meters = (sum(bool(one.search(line)) for line in track) for one in (IN_FEET, IN_METERS))
    return FEET if feet > meters else METERS
