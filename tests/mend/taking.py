"""What a mend takes away of a plan that was right: lines of the sound plan that no slip touched, and that are gone.

A line stays where one of its kind, at its place, is left: a drop to the same rail at the same place, a cut of the same
joint, work at the same turnout, a run to the same terminal. Wires may be swapped, and cuts be made in both rails.
"""

from __future__ import annotations

import re
from random import Random

from mend.likeness import statements
from oracle.plans import random_sound, seed_faults
from railbond.mend.overlay import Overlay
from railbond.mend.rounds import mend
from trackplan.statements import (
    Bus,
    ClosureBond,
    Cut,
    Feeder,
    FrogAutomatic,
    FrogFromStockRails,
    FrogSwitched,
    Gap,
    Reverser,
    Statement,
)

MOST_TURNOUTS, MOST_FAULTS = 6, 3
FROG = (FrogAutomatic, FrogFromStockRails, FrogSwitched)
ELSEWHERE = "a drop on another terminal", "a stray wire", "a cut in the other rail", "a cut at the other end"


def faulty_and_mended(seed: int) -> tuple[str, str, str]:
    """A random sound plan, the same with a few slips, and that as `mend` leaves it."""
    rng = Random(seed)
    sound = random_sound(rng, rng.randrange(MOST_TURNOUTS + 1))
    faulty, _ = seed_faults(sound, rng.randrange(1, MOST_FAULTS + 1), rng)
    if seed % 2:
        faulty = misplaced(sound, rng) or faulty
    overlay = Overlay(["plan"], {"plan": faulty}.__getitem__)
    mend(overlay)
    return sound, faulty, overlay.open_text("plan")


def misplaced(plan: str, rng: Random) -> str:
    """A plan in which one thing was done elsewhere than it should be; empty where there is nothing of the kind."""
    lines = plan.splitlines(keepends=True)
    kind = rng.choice(ELSEWHERE)
    pairs = [nth for nth, line in enumerate(lines) if re.match(r"feeder +P\d+ ->", line)]
    cuts = [nth for nth, line in enumerate(lines) if re.match(r"gap .*\.(start|finish) ", line)]
    terminals = [line.split()[3] for line in lines if line.startswith("bus ")]
    if not (cuts if "cut" in kind else pairs and terminals):
        return ""
    nth = rng.choice(cuts if "cut" in kind else pairs)
    old, other = lines[nth], rng.choice(terminals) if terminals else ""
    if kind == "a drop on another terminal":
        lines[nth] = re.sub(r"P\d+", other, old)
    elif kind == "a stray wire":
        side, leg = rng.choice(("left", "right")), rng.choice(("red", "black"))
        lines[nth] = f"{old}feeder    {other}.{leg} -> {old.split()[3]}.{side}  at 5 cm  22 AWG 20 cm\n"
    elif kind == "a cut in the other rail":
        lines[nth] = re.sub("both rails|left rail", "right rail", old)
    else:
        lines[nth] = re.sub(r"\.(start|finish)", lambda end: ".start" if end[1] == "finish" else ".finish", old)
    return "".join(lines)


def taken_away(sound: str, faulty: str, mended: str) -> list[Statement]:
    """The statements of a sound plan that stood in the faulty one, and that the mended one has lost."""
    right, left = {_said(one) for one in statements(sound)}, {_place(one) for one in statements(mended)}
    stood = [one for one in statements(faulty) if _said(one) in right]
    return [one for one in stood if _place(one) and _place(one) not in left]


def _said(one: Statement) -> tuple[object, ...]:
    return type(one).__name__, *one[1:]


def _place(one: Statement) -> tuple[object, ...]:
    """What was done where; nothing for what needs no hands."""
    if isinstance(one, Feeder):
        return "feeder", one.rail, one.place
    if isinstance(one, Gap):
        return "gap", one.place, one.offset
    if isinstance(one, Cut | ClosureBond):
        return type(one).__name__, *one[1:]
    if isinstance(one, FROG):
        return "frog", one.turnout
    if isinstance(one, Bus):
        return "bus", one.terminal
    return ("reverser", one.name) if isinstance(one, Reverser) else ()
