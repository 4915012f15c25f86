"""All that can be tried, by name, the quickest of what is tried most last."""

from __future__ import annotations

from random import Random

from fuzz.calling import PLAN, command
from fuzz.kills import one_kill
from fuzz.pairs import one_pair
from fuzz.running import Trying, on_texts
from fuzz.targets import TARGETS
from fuzz.texts import anything, spliced

AT_ONCE = 2.0
"""Seconds of one core within which a plan of 200 lines is answered."""


def both(text: str, dice: Random) -> None:
    """An answer to one of the two commands that work longest."""
    command(text, *dice.choice((("inspect", PLAN), ("mend", PLAN, "--show"))))


LAST = ("inspection", "reader")
TRYING: dict[str, Trying] = {
    "pairs": one_pair,
    "kills": one_kill,
    **{name: on_texts(name, target, anything) for name, target in TARGETS.items() if name not in LAST},
    "within two seconds": on_texts("within two seconds", both, spliced, AT_ONCE),
    **{name: on_texts(name, TARGETS[name], anything) for name in LAST},
}
