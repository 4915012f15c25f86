"""Mistakes as clubs make them, put into a sound plan as changes of its lines."""

from __future__ import annotations

import re
from collections.abc import Callable
from random import Random
from typing import NamedTuple


class Fault(NamedTuple):
    """What was done to which line (from 1). `after` is None where the line is gone."""

    kind: str
    line: int
    before: str
    after: str | None
    words: str


Change = Callable[[str], str | None]


def swap_drop(line: str) -> str:
    """The two drops of a pair the other way round."""
    return re.sub(r"\s+crossed$", "", line) if line.endswith("crossed") else f"{line}  crossed"


def swap_contacts(line: str) -> str:
    return re.sub(r"through (\S+)(\s+)diverging (\S+)", r"through \3\2diverging \1", line)


def gone(line: str) -> None:
    return None


def one_rail_only(line: str) -> str:
    return line.replace("both rails", "left rail")


BOTH_RAILS = r"gap .*(\.start|\.finish| at) .*both rails"
"""Where a rail can be named by its side: at a segment's own end, or within it."""

KINDS: dict[str, tuple[str, Change, str]] = {
    "swapped drop": (r"feeder +[\w-]+ ->", swap_drop, "the drops are soldered to the wrong rails"),
    "missing gap": (r"gap ", gone, "nobody cut this gap"),
    "missing gap on one rail": (BOTH_RAILS, one_rail_only, "one rail is uncut"),
    "swapped frog contacts": (r"frog .*through", swap_contacts, "the contacts are the wrong way round"),
    "missing bond": (r"bond ", gone, "the bond was forgotten"),
    "missing feeder": (r"feeder ", gone, "the feeder was forgotten"),
}
REVERSER = "reverser left out"


def seed_faults(plan: str, n: int, rng: Random) -> tuple[str, list[Fault]]:
    """The plan with up to `n` faults of different lines, and what they are; fewer where there is no room."""
    lines = plan.split("\n")
    made: list[Fault] = []
    for _ in range(n):
        touched = {fault.line for fault in made}
        choices = [(kind, nth) for kind, nth in possible(lines) if nth + 1 not in touched]
        if choices:
            wanted = rng.choice(sorted({kind for kind, _ in choices}))
            nth = rng.choice([nth for kind, nth in choices if kind == wanted])
            made.append(leave_out(lines, nth) if wanted == REVERSER else make(lines, wanted, nth))
    return "\n".join(line for line in lines if line != GONE), made


GONE = "\0"


def possible(lines: list[str]) -> list[tuple[str, int]]:
    """Every kind of fault with every line in which it could be made."""
    found = [(REVERSER, nth) for nth, line in enumerate(lines) if line.startswith("reverser ")]
    for kind, (pattern, _, _) in KINDS.items():
        found += [(kind, nth) for nth, line in enumerate(lines) if re.match(pattern, line)]
    return found


def make(lines: list[str], kind: str, nth: int) -> Fault:
    _, change, words = KINDS[kind]
    before, after = lines[nth], change(lines[nth])
    lines[nth] = GONE if after is None else after
    return Fault(kind, nth + 1, before, after, words)


def leave_out(lines: list[str], nth: int) -> Fault:
    """What the reverser fed is fed by its district instead."""
    before = lines[nth]
    _, name, _, district, *_ = before.split()
    lines[nth] = GONE
    for at, line in enumerate(lines):
        lines[at] = re.sub(rf"(?<![\w.-]){name}(?![\w-])", district, line)
    return Fault(REVERSER, nth + 1, before, None, f"{district} feeds what {name} should")
