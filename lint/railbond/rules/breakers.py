"""Breakers against their boosters, and those that act out of order."""

from __future__ import annotations

from collections.abc import Iterator

from railbond.circuit.facts import Facts
from railbond.findings import Fix, Found, Step
from railbond.fixes.power_words import BURNS
from trackplan.amend import set_word
from trackplan.edit import Edit
from trackplan.quantities import Current
from trackplan.statements import Booster, District, FrogAutomatic, Reverser, where

from .rule import Rule

MARGIN = 1.25
"""How many times what must act before it trips at, a breaker trips at, at least: common practice."""

STEPS = ((3.0, 1.0), (1.0, 0.5))
"""Amperes to which such units are set: in steps of so many (second) from so many on (first)."""


def find_over(facts: Facts) -> Iterator[Found]:
    """Districts whose breaker trips above what the booster can give."""
    for supply in facts.layout.supplies.values():
        booster = facts.layout.boosters.get(supply.booster or "")
        district = supply.statement
        if booster and isinstance(district, District) and district.trips and district.trips > booster.current:
            from railbond.fixes.power_fixes import trip_at

            trips = _as_others(facts, booster) or booster.current
            fix = Fix(f"set the breaker to {trips.text}", (trip_at(district, float(trips)),))
            yield Found(
                where(district, district.trips),
                f"{district.name} trips at {district.trips.text}, and {booster.name} gives no more than "
                f"{booster.current.text}: the breaker never opens, and a short stops every district of that booster.",
                (Step(where(booster, booster.current), f"{booster.name} gives {booster.current.text}"),), "", (fix,),
                (supply.name, str(booster.name)),
            )  # fmt: skip


def _as_others(facts: Facts, booster: Booster) -> Current | None:
    """What all breakers behind boosters of the same current trip at, as far as it is one that these can give."""
    alike = {name for name, one in facts.layout.boosters.items() if one.current == booster.current}
    districts = (one.statement for one in facts.layout.supplies.values() if one.booster in alike)
    given = {one.trips for one in districts if isinstance(one, District) and one.trips and one.trips <= booster.current}
    return given.pop() if len(given) == 1 else None


def find_order(facts: Facts) -> Iterator[Found]:
    """Reversers and automatic frog units that trip no earlier than the breaker before them."""
    for name, supply in facts.layout.supplies.items():
        if isinstance(supply.statement, Reverser) and supply.statement.trips:
            yield from _late(facts, supply.statement, supply.statement.trips, f"reverser {name}", name)
    for name, feed in facts.layout.frogs.items():
        if isinstance(feed.statement, FrogAutomatic) and feed.statement.trips and feed.supply:
            unit = f"the automatic frog unit of {name}"
            for supply_name in sorted(facts.power.supplies_of(feed.supply)):
                yield from _late(facts, feed.statement, feed.statement.trips, unit, name, supply_name)


def _late(
    facts: Facts, statement: Reverser | FrogAutomatic, trips: Current, what: str, name: str, supply: str = ""
) -> Iterator[Found]:
    guard = facts.power.guards.get(supply or name)
    before = guard and (guard.passes if supply else guard.trips)
    if guard is None or before is None or trips < before:
        return
    to = _as_its_like(facts, statement, float(before)) or f"{_earlier(float(before)):g} A"
    edit: Edit = set_word(statement, trips, to)
    yield Found(
        where(statement, trips),
        f"{what} trips at {trips.text}, and {guard.breaker}'s breaker at {before.text}: the breaker opens before it "
        f"can act, and everything on {guard.breaker} stops.",
        (Step(guard.at, f"{guard.breaker} trips at {guard.trips.text}"),), "",
        (Fix(f"set {what} to {to}", (edit,)),), (name, guard.supply.name),
    )  # fmt: skip


def _as_its_like(facts: Facts, statement: Reverser | FrogAutomatic, before: float) -> str:
    """What all others of its kind trip at, as far as that is early enough."""
    others = (one for one in facts.statements if isinstance(one, type(statement)) and one.at != statement.at)
    trips = {
        one.trips.text: float(one.trips) for one in others if isinstance(one, Reverser | FrogAutomatic) and one.trips
    }
    return next(iter(trips)) if len(trips) == 1 and min(trips.values()) < before else ""


def _earlier(before: float) -> float:
    """The most that such a unit is set to and that acts early enough."""
    most = before / MARGIN
    step = next((step for least, step in STEPS if most >= least), 0.0)
    return step * int(most / step + 1e-9) if step else max(round(most, 1), round(before / 2, 2))


_OVER = """\
plan      "Too much breaker"
booster   B1    15 V  5 A
district  main  from B1  trips {trips}
segment   line  stop -> stop  1.5 m
feeder    main -> line
"""

OVER = Rule(
    name="breaker-over-booster",
    level="error",
    happens="heat",
    turn=20,
    cause=False,
    find=find_over,
    when="a breaker above its booster",
    summary="A breaker that trips above what its booster can give.",
    railroad=(
        "The breaker never opens. A short anywhere brings the booster to its limit, where it feeds the fault or shuts "
        "down with every district behind it."
    ),
    meter="No meter finds this: compare what the breaker is set to with what is printed on the booster.",
    mend="Set the breaker below what the booster gives.",
    caution=BURNS,
    fails=_OVER.format(trips="8 A"),
    passes=_OVER.format(trips="4 A"),
)

_ORDER = """\
plan      "Impatient breaker"
booster   B1    15 V  5 A
district  main  from B1  trips 4 A
reverser  R1    in main  trips {trips}
segment   lead  stop -> T1.points     1 m
turnout   T1    left  number 6  isolated-frog
segment   loop  T1.through -> T1.diverging  3 m
gap       loop at 10 cm   both rails
gap       loop at 2.9 m   both rails
frog      T1    switched from stock rails
feeder    main -> lead
feeder    main -> loop  at 5 cm
feeder    main -> loop  at 2.95 m  crossed
feeder    R1 -> loop    at 1.5 m
"""

ORDER = Rule(
    name="breaker-trips-first",
    level="warning",
    happens="stall",
    turn=20,
    cause=False,
    find=find_order,
    when="a breaker of its own",
    summary="A reverser or frog unit that trips no earlier than the breaker before it.",
    railroad="Each time a wheel bridges the gap the breaker opens first: the train stops there, and so do all others.",
    meter="Roll one metal axle over the gap with a probe of the breaker's lamp in view: the reverser must act, not it.",
    mend="Set what must act first to less than what stands before it.",
    fails=_ORDER.format(trips="5 A"),
    passes=_ORDER.format(trips="2 A"),
)
RULES = (OVER, ORDER)
