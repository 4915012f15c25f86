"""Random plans whose wires have a length and a size, and the network of any plan."""

from __future__ import annotations

import re
from random import Random

from hypothesis import strategies as st

from oracle.plans import random_sound
from railbond.circuit.facts import Facts
from railbond.circuit.power.solved import SolvedNetwork
from trackplan.read import read
from trackplan.span import Source

SIZES = ("10 AWG", "14 AWG", "1.5 mm2", "0.75 mm2 stranded", "2x 16 AWG", "22 AWG")
DROPS = ("18 AWG", "22 AWG", "24 AWG stranded", "0.5 mm2")
EXTRAS = (
    "rails code 100 brass",
    "limit joiner-resistance 5 mohm",
    "limit temperature 40 C",
    "limit contact-resistance 0 mohm",
)
ENGINES = "engine a left 0 30 mm right 0 30 mm 0.4 A\nengine b left 0 30 mm right 0 30 mm 1.1 A\n"


def facts_of(text: str) -> Facts:
    """A plan's facts; its text must read."""
    source = Source("plan.trackplan", text)
    reading = read(source)
    assert not reading.broken, reading.broken
    return Facts(reading.statements, {source.path: source})


def power_of(text: str) -> SolvedNetwork:
    return facts_of(text).power


def wired(text: str, rng: Random) -> str:
    """A plan with a length and a size at every bus run and feeder, engines, and some of the plan-wide statements."""
    lines = [_wired(line, rng) for line in text.splitlines()]
    return "\n".join([*lines, *(extra for extra in EXTRAS if rng.random() < 0.4)]) + "\n" + ENGINES


def _wired(line: str, rng: Random) -> str:
    """A line with a random wire in the place of its own, if it has one."""
    crossed = "  crossed" if line.rstrip().endswith("crossed") else ""
    if line.startswith("bus"):
        return f"{' '.join(line.split()[:4])}  {rng.randint(1, 90) / 10} m  {rng.choice(SIZES)}{crossed}"
    if line.startswith("feeder"):
        bare = re.sub(r"\s+crossed|\s+\d+ AWG.*", "", line)
        return f"{bare}  {rng.choice(DROPS)}  {rng.randint(5, 60)} cm{crossed}"
    return line


def random_wired(rng: Random, turnouts: int, quiet: bool = True) -> str:
    return wired(random_sound(rng, turnouts, quiet), rng)


def wired_plans(max_turnouts: int = 5) -> st.SearchStrategy[str]:
    """Sound plans, wires and all; hypothesis holds the dice."""
    dice = st.randoms(use_true_random=False)
    return st.builds(random_wired, dice, st.integers(0, max_turnouts), st.booleans())
