"""The first lines of power: a booster where there is none, a district for each, and a name for a module's plug."""

from __future__ import annotations

from collections.abc import Iterator

from railbond.circuit.facts import Facts
from trackplan.statements import Booster, District

from .calling import SAY_NOTHING, words
from .draft import WrittenLine
from .undefined import districts_meant, undefined
from .wishes import WiringWishes

USUAL_VOLTS = {"N": 12, "Z": 9, "TT": 13}
"""Track voltage in the middle of what NMRA S-9.1 allows for the small scales; the others take 15 V."""
BREAKER_SHARE = 0.8
"""What a breaker opens at, as a share of what its booster can give: it should be the first (common practice)."""


def supplies(facts: Facts, wishes: WiringWishes) -> Iterator[WrittenLine]:
    """Lines for power that the plan does not have yet; for a module, whose power comes through its plug, a run from
    there."""
    layout = facts.layout
    has_cabs = any(one.kind == "cab" for one in layout.supplies.values())
    if (has_cabs or layout.edges) and not layout.boosters:
        if not layout.supplies and not undefined(facts, every=True):
            why = "the module's power comes through its bus plug"
            yield WrittenLine(f"bus plug -> P1  {wishes.first_run}", why, "P1")
        return
    boosters = [one for one in facts.statements if isinstance(one, Booster)]
    names = {str(getattr(one, "name", "")) for one in facts.statements}
    given = [(str(one.name), float(one.current)) for one in boosters] or [("B1", 5.0)]
    if not boosters:
        volts = USUAL_VOLTS.get(layout.scale or "", 15)
        yield WrittenLine(f"booster B1  {volts} V  5 A", "the plan has no booster: one of a usual size", "B1")
    wanted = districts_meant(facts)
    fed = {str(one.booster) for one in facts.statements if isinstance(one, District)}
    bare = [(name, amperes) for name, amperes in given if name not in fed]
    for number, (name, amperes) in enumerate(bare, 1):
        district = wanted.pop(0) if wanted else _free(name, len(given), number, names)
        trips = round(amperes * BREAKER_SHARE * 2) / 2 or amperes
        why = f"{name} feeds the track behind a breaker that opens before it gives all of its {amperes:g} A"
        yield WrittenLine(f"district {district}  from {name}  trips {trips:g} A", why, district)


def more_boosters(facts: Facts, count: int) -> list[WrittenLine]:
    """As many more boosters like the plan's first, each with a district: where one alone would have to reach too far.
    None where power does not come from boosters."""
    layout, lines = facts.layout, list[WrittenLine]()
    like = next((one for one in facts.statements if isinstance(one, Booster)), None)
    home = next((one for one in facts.statements if isinstance(one, District)), None)
    if like is None or home is None:
        return []
    names = {str(getattr(one, "name", "")) for one in facts.statements}
    trips = f"  trips {home.trips.text}" if home.trips else ""
    why = "one booster alone would be so far from the end of its track that a short there might not open its breaker"
    for _ in range(count):
        booster, district = _next("B", names), _next("D", names)
        lines.append(WrittenLine(f"booster {booster}  {like.voltage.text}  {like.current.text}", why, booster))
        lines.append(WrittenLine(f"district {district}  from {booster}{trips}", f"the track of {booster}", district))
    return lines if layout.supplies else []


def _next(base: str, taken: set[str]) -> str:
    """The base with the first number from 2 on that makes a name of its own."""
    found = next(f"{base}{number}" for number in range(2, len(taken) + 3) if f"{base}{number}" not in taken)
    taken.add(found)
    return found


def _free(booster: str, count: int, number: int, taken: set[str]) -> str:
    """A name for a district that nothing else bears: that of its booster, `yard` for a `yard-booster`; else `main`, or
    `D2` for the second of several."""
    own = "-".join(word for word in words(booster) if word not in SAY_NOTHING and not word.isdigit())
    called = [own, f"{own}-track"] if len(own) > 1 else []
    bases = ["main", "power", "track-power"] if count == 1 else [f"D{number}"]
    more = (f"district-{nth}" for nth in range(1, len(taken) + 2))
    found = next(one for one in [*called, *bases, *more] if one not in taken)
    taken.add(found)
    return found
