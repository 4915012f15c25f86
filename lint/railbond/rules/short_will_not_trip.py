"""A short so far from its breaker that it draws too little to open it."""

from __future__ import annotations

from collections.abc import Iterator

from railbond.circuit.facts import Facts
from railbond.circuit.witness import setting_words
from railbond.findings import Found, Step
from railbond.fixes.power_words import BURNS
from trackplan.typed import TYPE_CHECKING

from .rule import Rule

if TYPE_CHECKING:
    from railbond.circuit.power.guards import Guard
    from railbond.circuit.power.spots import Spot


def find(facts: Facts) -> Iterator[Found]:
    """One finding for each supply, at the place where a short draws least."""
    guards = facts.power.guards
    most = {supply: guard.most_ohms(facts.layout) for supply, guard in guards.items()}
    for supply, spot in facts.power.worst.items() if facts.power.may_exceed(most) else ():
        if supply in most and spot.ohms > most[supply]:
            yield _finding(facts, guards[supply], spot)


def _finding(facts: Facts, guard: Guard, spot: Spot) -> Found:
    from railbond.fixes.power_fixes import less_resistance, lower_trip
    from railbond.fixes.power_words import amperes, percent, place_words

    short, needed = guard.short(spot.ohms), guard.needed(facts.layout)
    margin = needed / float(guard.trips) - 1
    cures = less_resistance(facts, spot.supply, guard.most_ohms(facts.layout)) if facts.with_fixes else ()
    fixes = (*cures, *lower_trip(facts, guard, short))
    return Found(
        facts.layout.pieces[spot.piece].statement.at,
        f"a short {place_words(facts, spot)} draws only {amperes(short)}, and to open {guard.breaker}'s breaker for "
        f"certain it takes {amperes(needed)} ({guard.trips.text} and {percent(margin)}): it may burn for ever"
        f"{_elsewhere(facts, guard, spot)}.",
        (*_reason(facts, guard, spot, short),), setting_words(spot.setting), fixes,
        (spot.piece, spot.supply),
    )  # fmt: skip


def _elsewhere(facts: Facts, guard: Guard, worst: Spot) -> str:
    needed = guard.needed(facts.layout)
    bad = {spot.piece for spot in facts.power.spots_of[worst.supply] if guard.short(spot.ohms) < needed}
    others = len(bad) - 1
    return f"; so may one on {others} more {'piece' if others == 1 else 'pieces'}" if others else ""


def _reason(facts: Facts, guard: Guard, spot: Spot, short: float) -> Iterator[Step]:
    from railbond.fixes.power_words import loss_steps, taken_for

    yield Step(guard.at, f"{guard.breaker} trips at {guard.trips.text}; there and back the loop has {spot.ohms:.2f} Ω")
    yield from loss_steps(facts, spot, short)
    yield taken_for(facts)


_PLAN = """\
plan      "Long branch"
scale     HO
booster   B1    15 V  5 A
district  main  from B1  trips 4 A
bus       main -> P1  12 m  20 AWG
segment   line  stop -> J  6 m
segment   mine  J -> stop  6 m
feeder    P1 -> line  at 1 m  20 AWG  20 cm
{more}"""

RULE = Rule(
    name="short-will-not-trip",
    level="error",
    happens="heat",
    turn=20,
    cause=False,
    find=find,
    when="a short may draw too little",
    summary="A short somewhere draws too little to open the breaker.",
    railroad=(
        "A derailed truck bridges the rails and the breaker takes it for a train. The current goes on flowing through "
        "thin wire, long rail and the truck, which glow; plastic ties and wheels melt, and there may be a fire."
    ),
    meter=(
        "Somebody at the plug: lay a coin across the rails at the far end of the district. The breaker must open "
        "within a second, anywhere, with every joiner as it is. If it hums on, pull the plug."
    ),
    mend="Thicker bus, or one more pair of drops near the place; a breaker set lower is the weaker cure.",
    caution=BURNS,
    fails=_PLAN.format(more=""),
    passes=_PLAN.format(more="feeder    P1 -> mine  at 5 m  18 AWG  9 m\n"),
)
RULES = (RULE,)
