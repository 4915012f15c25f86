"""Plans to try: people's own as the tree has them, random track of every kind, and any of them as slips of the hand
and bad files leave it."""

from __future__ import annotations

from functools import cache
from pathlib import Path
from random import Random

from fuzz.spoiling import spoilt
from oracle.plans import random_sound, random_wild, seed_faults
from railbond.rules import all_rules
from trackwork.mixed import random_mixed

EXAMPLES = Path(__file__).resolve().parents[2] / "example_plans"
SEEDS = Path(__file__).with_name("seeds")
MOST_TURNOUTS = 8

ENGINES = ("left 0 mm right 0 mm", "left 0 31 62 mm right 0 31 62 mm", "left 0 9 mm right 120 mm")
TRAINS = ("train longest 2.4 m", "train longest 50 cm metal-wheels 20 cm")
LIMITS = ("feeder-spacing 2 m", "voltage-drop 5 %", "proof-steps 3", "running-load 2 A", "long-bus 5 m")
WIRES = (
    "limit feeder-size 22 AWG",
    "limit feeder-length 20 cm",
    "limit bus-size 14 AWG",
    "rails code 83 nickel-silver",
)


@cache
def written() -> tuple[str, ...]:
    """Every plan that the tree holds: examples, the rules' own, and the seeds that once found something."""
    files = [*sorted(EXAMPLES.rglob("*.trackplan")), *sorted(SEEDS.glob("*.trackplan"))]
    texts = [path.read_text(encoding="utf-8", errors="replace") for path in files]
    texts += [text for rule in all_rules() for text in (rule.fails, rule.passes) if text]
    return tuple(dict.fromkeys(texts))


def grown(dice: Random) -> str:
    """Random track: sound, with seeded mistakes, wild, or of every kind of trackwork."""
    turnouts = dice.randint(0, MOST_TURNOUTS)
    make = dice.choice((random_mixed, _wild, _faulty, _sound))
    text = random_mixed(dice) if make is random_mixed else make(dice, turnouts)
    return _with_more(text, dice)


def _wild(dice: Random, turnouts: int) -> str:
    return random_wild(dice, turnouts)


def _sound(dice: Random, turnouts: int) -> str:
    return random_sound(dice, turnouts)


def _faulty(dice: Random, turnouts: int) -> str:
    return seed_faults(random_sound(dice, turnouts), dice.randint(1, 3), dice)[0]


def _with_more(text: str, dice: Random) -> str:
    """With engines, a train, limits and sizes of wires, each as often as not."""
    more = [f"engine E{nth} {places} 0.4 A" for nth, places in enumerate(ENGINES) if dice.random() < 0.3]
    more += [line for line in TRAINS[: dice.randint(0, 2)][-1:]]
    more += [f"limit {line}" for line in LIMITS if dice.random() < 0.1]
    more += list(WIRES) if dice.random() < 0.3 else []
    return text + "".join(f"{line}\n" for line in more)


def well_formed(dice: Random) -> str:
    """A plan that reads."""
    return dice.choice(written()) if dice.random() < 0.3 else grown(dice)


def anything(dice: Random) -> str:
    """Any plan, or what is left of one."""
    text = well_formed(dice)
    return text if dice.random() < 0.25 else spoilt(text, dice, lambda: dice.choice(written()))
