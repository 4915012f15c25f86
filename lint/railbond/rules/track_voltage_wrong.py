"""Track voltage outside of what the standard gives for the scale."""

from __future__ import annotations

from collections.abc import Iterator

from railbond.circuit.facts import Facts
from railbond.circuit.power.track_volts import Volts, for_scale
from railbond.findings import Fix, Found, Happens, Step
from railbond.fixes.power_words import BURNS
from trackplan.amend import set_word
from trackplan.statements import Booster, where

from .rule import Rule


def find(facts: Facts) -> Iterator[Found]:
    """Boosters that give too little or too much."""
    volts = for_scale(facts.layout.scale)
    for booster in facts.layout.boosters.values() if volts else ():
        if volts and not volts.least <= booster.voltage <= volts.most:
            yield _finding(facts, booster, volts)


def _finding(facts: Facts, booster: Booster, volts: Volts) -> Found:
    high = booster.voltage > volts.most
    happens: Happens = "heat" if high else "stall"
    does = _too_high(booster, volts) if high else "decoders may not start, or forget themselves"
    scale = f"{facts.layout.scale} scale" if facts.layout.scale else "any scale up to O"
    fix = Fix(
        f"set {booster.name} to {volts.usual:g} V", (set_word(booster, booster.voltage, f"{volts.usual:g} V"),),
        plain=False, changes="engines run at another speed",
    )  # fmt: skip
    return Found(
        where(booster, booster.voltage),
        f"{booster.name} gives {booster.voltage.text}, and {scale} is allowed {volts.least:g} to {volts.most:g} V "
        f"at the track (NMRA S-9.1): {does}.",
        (Step(where(booster), f"usual are {volts.usual:g} V"),), "", (fix,), (str(booster.name),), happens=happens
    )  # fmt: skip


def _too_high(booster: Booster, volts: Volts) -> str:
    """What the standard asks of decoders tells whether they burn or only age."""
    if booster.voltage > volts.stood:
        return f"decoders need stand no more than {volts.stood:g} V, and burn out above what they stand; so do lamps"
    return f"decoders must stand {volts.stood:g} V, so few burn at once, but lamps and motors run hot and wear out"


_PLAN = """\
plan     "Garden booster in the attic"
scale    N
booster  B1    {volts}  5 A
district main  from B1  trips 3 A
segment  line  stop -> stop  1.5 m
feeder   main -> line
"""

RULE = Rule(
    name="track-voltage-wrong",
    level="error",
    happens="heat",
    turn=20,
    cause=False,
    find=find,
    when="volts outside of the standard",
    summary="A booster's volts lie outside what NMRA S-9.1 gives for the scale.",
    railroad=(
        "Above what the standard allows lamps and motors run hot and wear out. Above what decoders must stand (24 V "
        "in N and smaller, 27 V in larger scales) they burn out. Too little, and decoders do not start or forget "
        "themselves."
    ),
    meter="An alternating-current meter across the rails with no engine on them; the booster's own display is better.",
    mend="Set the booster's scale switch, or use a supply with the right volts before it.",
    caution=BURNS,
    fails=_PLAN.format(volts="24 V"),
    passes=_PLAN.format(volts="13 V"),
)
RULES = (RULE,)
