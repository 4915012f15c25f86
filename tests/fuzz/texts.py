"""Plans to try: people's own as the tree has them, random track of every kind, and any of them as slips of the hand
and bad files leave it. Most are short, for what fails can be said in a few lines; `SHARES` says how many are long."""

from __future__ import annotations

import re
from collections.abc import Callable
from functools import cache
from pathlib import Path
from random import Random

from fuzz.spoiling import spoilt
from oracle.plans import random_sound, random_wild, seed_faults
from railbond.rules import all_rules
from trackwork.mixed import random_mixed, random_piece

EXAMPLES = Path(__file__).resolve().parents[2] / "example_plans"
SEEDS = Path(__file__).with_name("seeds")

SHARES = {"few": 0.85, "some": 0.115, "whole": 0.03, "long": 0.005}
"""Of texts by size: a few lines about one piece of trackwork or one fault; a few pieces; a small layout; and as many
lines as a plan of a large one has."""
FEW = 15
"""Lines of those of few, before they are spoilt."""
SETTINGS = {"some": 8, "whole": 128, "long": 128}
"""How many settings the points of one plan of mixed trackwork may have, by size."""
TURNOUTS = {"few": 0, "some": 1, "whole": 8, "long": 8}
LONG = 200
"""Lines that a long one may have."""

ENGINES = ("left 0 mm right 0 mm", "left 0 31 62 mm right 0 31 62 mm", "left 0 9 mm right 120 mm")
TRAINS = ("train longest 2.4 m", "train longest 50 cm metal-wheels 20 cm")
LIMITS = ("feeder-spacing 2 m", "voltage-drop 5 %", "proof-steps 3", "running-load 2 A", "long-bus 5 m")
WIRES = (
    "limit feeder-size 22 AWG",
    "limit feeder-length 20 cm",
    "limit bus-size 14 AWG",
    "rails code 83 nickel-silver",
)

RARE = (
    "lamp {name}.finish 20 mA",
    "solder joiners at {name}.start",
    "transfer-table TB 40 cm\napproach-track TB.lead at 20 cm\njoint TB.lead -> stop\nfeeder main -> TB.bridge",
    'include "club.trackplan"',
    "any order of {name} {other} between {name} and {other}",
    'module {name} "town.trackplan" owner "the club"\ncouple {name}.E -> {other}.W',
)
"""What random track and most people's plans have nothing of."""


@cache
def written() -> tuple[str, ...]:
    """Every plan that the tree holds: examples, the rules' own, and the seeds that once found something."""
    files = [*sorted(EXAMPLES.rglob("*.trackplan")), *sorted(SEEDS.glob("*.trackplan"))]
    texts = [path.read_text(encoding="utf-8", errors="replace") for path in files]
    texts += [text for rule in all_rules() for text in (rule.fails, rule.passes) if text]
    return tuple(dict.fromkeys(texts))


@cache
def short() -> tuple[str, ...]:
    """Those of a few lines."""
    return tuple(text for text in written() if text.count("\n") <= FEW)


def size(dice: Random) -> str:
    return dice.choices(tuple(SHARES), tuple(SHARES.values()))[0]


def grown(dice: Random, of: str = "whole") -> str:
    """Random track of a size: sound, with seeded mistakes, wild, or of every kind of trackwork."""
    if of == "long":
        return spliced(dice)
    turnouts = dice.randint(0, TURNOUTS[of])
    make = dice.choice((_mixed, _wild, _faulty, _sound))
    return _with_more(_mixed(dice, of) if make is _mixed else make(dice, turnouts), dice)


def _mixed(dice: Random, of: str) -> str:
    return random_mixed(dice, SETTINGS[of]) if of in SETTINGS else random_piece(dice)


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


def well_formed(dice: Random, of: str = "whole") -> str:
    """A plan that reads, of a size."""
    return dice.choice(short() if of == "few" else written()) if dice.random() < 0.3 else grown(dice, of)


def anything(dice: Random) -> str:
    """Any plan, or what is left of one."""
    of = size(dice)
    text = well_formed(dice, of)
    if dice.random() < 0.1:
        text += _rare(text, dice)
    others = short if of == "few" else written
    return text if dice.random() < 0.25 else spoilt(text, dice, lambda: dice.choice(others()))


def _rare(text: str, dice: Random) -> str:
    """A line of what is rare, about some of the text's pieces."""
    names = re.findall(r"^(?:segment|turnout)\s+([\w-]+)", text, re.MULTILINE) or ["west"]
    return dice.choice(RARE).format(name=dice.choice(names), other=dice.choice(names)) + "\n"


def spliced(dice: Random) -> str:
    """A plan of as many lines as the longest that must be answered at once: several in one, in order or in any; one
    large layout with mistakes or wild; or a spoilt one."""
    make = dice.choice((_several, _shuffled, _large, _large_and_spoilt))
    return "\n".join(make(dice).split("\n")[:LONG])


def _several(dice: Random) -> str:
    lines: list[str] = []
    while len(lines) < LONG:
        lines += (dice.choice(written()) if dice.random() < 0.6 else grown(dice)).split("\n")
    return "\n".join(lines[:LONG])


def _shuffled(dice: Random) -> str:
    lines = _several(dice).split("\n")
    dice.shuffle(lines)
    return "\n".join(lines)


def _large(dice: Random) -> str:
    turnouts = dice.randint(TURNOUTS["long"], 30)
    makes: tuple[Callable[[], str], ...] = (
        lambda: random_wild(dice, turnouts),
        lambda: seed_faults(random_sound(dice, turnouts), dice.randint(1, 8), dice)[0],
    )
    return dice.choice(makes)()


def _large_and_spoilt(dice: Random) -> str:
    return spoilt(_large(dice), dice, lambda: dice.choice(written()), 8)
