"""Trains that get less than they should at the far end."""

from __future__ import annotations

from collections.abc import Iterator

from railbond.circuit.facts import Facts
from railbond.circuit.witness import setting_words
from railbond.findings import Found, Step
from railbond.layout.limits import limit
from trackplan.typed import TYPE_CHECKING

from .rule import Rule

if TYPE_CHECKING:
    from railbond.circuit.power.guards import Guard
    from railbond.circuit.power.spots import Spot


def find(facts: Facts) -> Iterator[Found]:
    """One finding for each supply, at the place where its running load loses most."""
    share = limit(facts.layout, "voltage-drop") or 0.0
    guards = facts.power.guards
    loads = {supply: load for supply in guards if (load := facts.power.running(supply))}
    most = {supply: share * guards[supply].volts / load for supply, load in loads.items()}
    for supply, spot in facts.power.worst.items() if most and facts.power.may_exceed(most) else ():
        if supply in most and spot.ohms > most[supply]:
            yield _finding(facts, guards[supply], spot, loads[supply], share)


def _finding(facts: Facts, guard: Guard, spot: Spot, load: float, share: float) -> Found:
    from railbond.fixes.power_fixes import less_resistance
    from railbond.fixes.power_words import amperes, percent, place_words, volts

    lost = load * spot.ohms
    fixes = less_resistance(facts, spot.supply, share * guard.volts / load) if facts.with_fixes else ()
    return Found(
        facts.layout.pieces[spot.piece].statement.at,
        f"a load of {amperes(load)} {place_words(facts, spot)} loses {volts(lost)} on the way, "
        f"{percent(lost / guard.volts)} of {guard.booster.voltage.text}; {percent(share)} is the limit.",
        (*_reason(facts, spot, load),), setting_words(spot.setting),
        tuple(fixes), (spot.piece, spot.supply),
    )  # fmt: skip


def _reason(facts: Facts, spot: Spot, load: float) -> Iterator[Step]:
    from railbond.fixes.power_words import amperes, loss_steps, taken_for

    told = facts.layout.limits.get("running-load")
    if told:
        yield Step(told.at, f"{amperes(load)} may run at one place")
    elif facts.layout.engines:
        yield Step(facts.layout.engines[0].at, f"all the plan's engines at one place draw {amperes(load)}")
    yield from loss_steps(facts, spot, load)
    yield taken_for(facts)


_PLAN = """\
plan      "Slow at the mine"
scale     HO
booster   B1    15 V  5 A
district  main  from B1  trips 4 A
bus       main -> P1  12 m  {bus}
segment   mine  stop -> stop  2 m
feeder    P1 -> mine  at 1 m  22 AWG  20 cm
engine    mallet  left 0 31 62 mm  right 0 31 62 mm  1.2 A
"""

RULE = Rule(
    name="voltage-drop",
    level="warning",
    happens="stall",
    turn=20,
    cause=False,
    find=find,
    when="volts are lost",
    summary="The running load loses more volts on its way than the limit allows.",
    railroad="Trains slow down and lights dim at the far end, sound breaks off, and decoders lose their orders.",
    meter=(
        "Run the load at the place, or lay a lamp of the same current across the rails there, and read the volts "
        "beside it and at the booster: the difference is what the way takes."
    ),
    mend="Thicker bus, or one more pair of drops near the place.",
    fails=_PLAN.format(bus="20 AWG"),
    passes=_PLAN.format(bus="14 AWG"),
)
RULES = (RULE,)
