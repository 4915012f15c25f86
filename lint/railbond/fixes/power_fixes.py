"""Thicker wires, new drops and breakers' settings as edits, shared by the rules about power."""

from __future__ import annotations

from collections.abc import Iterator

from railbond.circuit.facts import Facts
from railbond.findings import Fix
from trackplan.amend import add_clause, set_word
from trackplan.edit import Edit, add_line
from trackplan.quantities import WireSize
from trackplan.statements import Accept, Bus, District, Feeder, Statement
from trackplan.typed import TYPE_CHECKING

from .fix_edits import beside, length_words
from .longer_bus import led_on
from .power_words import wire_words

if TYPE_CHECKING:
    from railbond.circuit.power.guards import Guard
    from railbond.circuit.power.wires import Changes


NOT_REACHED = "how little copper is enough is worked out once the supplies told before are mended"
"""Where many supplies of one plan need copper, only so many are worked out at a time."""


def less_resistance(facts: Facts, supply: str, most: float) -> Iterator[Fix]:
    """The least copper that brings every place of a supply below that many ohms; and by thicker wires alone."""
    from railbond.circuit.power.least_copper import least_copper

    if facts.copper_budget.left <= 0:
        yield Fix(f"lay thicker wires to {_local(facts, supply)}, or solder more drops: {NOT_REACHED}", ())
        return
    candidates: list[Changes | None] = [
        least_copper(facts.power, supply, most, more_drops, facts.copper_budget) for more_drops in (True, False)
    ]
    for changes in [one for place, one in enumerate(candidates) if one and one not in candidates[:place]]:
        yield Fix("; ".join(_words(facts, changes)), tuple(_edits(facts, changes)))
    if not any(candidates) and facts.copper_budget.left <= 0:
        yield Fix(f"lay thicker wires to {_local(facts, supply)}, or solder more drops: {NOT_REACHED}", ())
    elif not any(candidates):
        nearer = "bring a booster of its own nearer to the place, or feed it as a district"
        bus = "lay a second bus with short drops along it"
        yield Fix(f"{nearer}; or {bus}: as the wires run, copper is not enough", ())


def _words(facts: Facts, changes: Changes) -> Iterator[str]:
    for wire, size in changes.sizes.items():
        yield f"lay {wire_words(wire)} in {size.text}"
    for new in led_on(facts, _feeders(changes)):
        feeder = new.drop
        at = f" at {length_words(feeder.place)}" if feeder.place is not None else ""
        long = f"{length_words(new.meters)} of {feeder.size.text}" if feeder.size else ""
        source, rail = _local(facts, feeder.supply), _local(facts, feeder.rail)
        if new.terminal:
            yield f"lead the bus on from {source} to a terminal under {rail}, {length_words(new.run)} of {new.size}"
            source = "there"
        yield f"solder a feeder from {source} to {rail}{at}, {long}"


def _edits(facts: Facts, changes: Changes) -> Iterator[Edit]:
    for wire, size in changes.sizes.items():
        yield resized(facts, wire, size)
    for new in led_on(facts, _feeders(changes)):
        feeder = new.drop
        at = f"  at {length_words(feeder.place)}" if feeder.place is not None else ""
        long = f"  {feeder.size.text}  {length_words(new.meters)}" if feeder.size else ""
        source = _local(facts, feeder.supply)
        if new.terminal:
            run = f"bus {source} -> {new.terminal}  {length_words(new.run)}  {new.size}"
            yield add_line(beside(facts, Bus, feeder.at), run)
            source = new.terminal
        ends = f"{source} -> {_local(facts, feeder.rail)}"
        crossed = "  crossed" if feeder.crossed else ""
        yield add_line(beside(facts, Feeder, feeder.at), f"feeder {ends}{at}{long}{crossed}")


def _feeders(changes: Changes) -> list[Feeder]:
    """The new drops' lines, one for a pair."""
    return list(dict.fromkeys(drop.statement for drop, _, _ in changes.drops if isinstance(drop.statement, Feeder)))


def _local(facts: Facts, word: str) -> str:
    """A piece, supply or terminal as its own file calls it: what a module's name comes before is left out."""
    known = facts.layout.pieces, facts.layout.supplies, facts.layout.terminals
    owner = word
    while owner and not any(owner in names for names in known):
        owner = owner.rpartition(".")[0]
    return word[owner.rfind(".") + 1 :]


def _short(name: str) -> str:
    """A supply or terminal as its own file calls it."""
    return name.rpartition(".")[2]


def resized(facts: Facts, wire: Bus | Feeder, size: WireSize) -> Edit:
    """A bus run or feeder in another size, whether its line says one or a limit says it for all."""
    if wire.size is not None:
        return set_word(wire, wire.size, size.text)
    length = None if isinstance(wire, Bus) else facts.power.wire_of(wire)[1]
    return add_clause(wire, "size", size.text + (f"  {length.text}" if length else ""))


def trip_at(statement: District, current: float) -> Edit:
    """A district whose breaker opens at that many amperes."""
    words = f"{round(current, 2):g} A"
    if statement.trips is not None:
        return set_word(statement, statement.trips, words)
    return add_clause(statement, "trips", f"trips {words}")


def lower_trip(facts: Facts, guard: Guard, short: float) -> Iterator[Fix]:
    """A breaker set so low that the weakest short opens it, where the trains leave room for that."""
    district = facts.layout.supplies.get(guard.supply.district or "")
    statement = district.statement if district else None
    trips = int(10 * short / (guard.needed(facts.layout) / float(guard.trips))) / 10
    if isinstance(statement, District) and trips >= max(facts.power.load or 0.0, 0.5):
        yield Fix(
            f"set the breaker of {statement.name} to {trips:g} A", (trip_at(statement, trips),), plain=False,
            changes=f"{statement.name} then feeds fewer trains",
        )  # fmt: skip


def accepted(facts: Facts, rule: str, name: str, near: Statement, words: str, reason: str) -> Fix:
    """What the plan cannot say is done at the bench, and the owner's word for it put into the plan."""
    line = f'accept {rule} at {_short(name)} because "{reason}"'
    edit = add_line(beside(facts, Accept, near.at), line)
    return Fix(words, (edit,), plain=False, changes="the finding is then accepted by the owner's word")
