"""Sound random plans with one to three seeded faults, mended: how often the mended plan is the sound one again.

A mend is as good when the plan says the same again, or every rail carries the same (`mend.likeness` says exactly
what), and no more fixes were made than faults were seeded. Some faults do no harm (one of two feeders to a rail is
forgotten); so plans in which something is found count once more by themselves. What is lost is mostly past knowing:
where a feeder and the gap beside it are both forgotten, nothing is wrong with what is left.
"""

from __future__ import annotations

import os
from collections import Counter
from collections.abc import Iterator
from random import Random

from benchmark.timing import Measure
from mend.likeness import electrically_alike, said
from oracle.plans import random_sound, seed_faults
from railbond.mend.overlay import Overlay
from railbond.mend.rounds import mend
from railbond.rules import all_rules

PLANS = 10_000 if os.environ.get("HYPOTHESIS_PROFILE") == "thorough" else 500
MOST_TURNOUTS, MOST_FAULTS = 6, 3
GOAL = 95
ASKED = tuple(rule.name for rule in all_rules() if rule.level != "note")
NO_ROOM, FOUND, ALL = "no fault", "whatever is found", "whatever is seeded"
ENDS = ("the same", "alike", "sound otherwise", "not sound", "more fixes")


def measures() -> Iterator[Measure]:
    """A row for each number of faults, one for each kind that was seeded alone, and the sum."""
    rows: dict[str, Counter[str]] = {}
    for seed in range(PLANS):
        kinds, found, end = outcome(seed)
        first = f"{len(kinds)} faults" if len(kinds) > 1 else f"1 fault: {kinds[0]}" if kinds else NO_ROOM
        for name in (first, *([FOUND] if found else []), *([ALL] if kinds else [])):
            rows.setdefault(name, Counter())[end] += 1
    rows.pop(NO_ROOM, None)
    for name in sorted(rows, key=lambda name: (name == ALL, name == FOUND, name)):
        yield row(name, rows[name])


def row(name: str, ends: Counter[str]) -> Measure:
    """Percent of the plans that came out as good, and how many came out how."""
    good, total = ends["the same"] + ends["alike"], sum(ends.values())
    counts = ", ".join(f"{ends[end]} {end}" for end in ENDS)
    what = f"% as good after {name} ({total} plans: {counts})"
    return Measure(what, 100 * good / total, least=GOAL if name in (FOUND, ALL) else None)


def outcome(seed: int) -> tuple[list[str], bool, str]:
    """The kinds of the faults that were seeded, whether any was found, and how the mended plan compares."""
    rng = Random(seed)
    sound = random_sound(rng, rng.randrange(MOST_TURNOUTS + 1))
    faulty, faults = seed_faults(sound, rng.randrange(1, MOST_FAULTS + 1), rng)
    overlay = Overlay(["plan"], {"plan": faulty}.__getitem__)
    found = any(one.level != "note" for one in overlay.inspection("plan").findings)
    done = mend(overlay, ASKED)
    return [fault.kind for fault in faults], found, compared(sound, overlay, len(done.made), len(faults))


def compared(sound: str, overlay: Overlay, made: int, seeded: int) -> str:
    text = overlay.open_text("plan")
    if any(one.level != "note" for one in overlay.inspection("plan").findings):
        return "not sound"
    if made > seeded:
        return "more fixes"
    if said(text) == said(sound):
        return "the same"
    return "alike" if electrically_alike(sound, text) else "sound otherwise"
