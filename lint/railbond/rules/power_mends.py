"""Thicker wires, new drops and breakers' settings as edits, shared by the rules about power."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from railbond.circuit.facts import Facts
from railbond.findings import Fix
from railbond.layout.model import Drop
from trackplan.edit import Edit, add_line, replace
from trackplan.quantities import Quantity, WireSize
from trackplan.span import Span
from trackplan.statements import Accept, Bus, District, Feeder, Statement, where

from .mends import beside, length_words, local
from .power_words import wire_words

if TYPE_CHECKING:
    from railbond.circuit.power.guards import Guard
    from railbond.circuit.power.wires import Changes


def less_resistance(facts: Facts, supply: str, most: float) -> Iterator[Fix]:
    """The least copper that brings every place of a supply below that many ohms; and by thicker wires alone."""
    from railbond.circuit.power.mending import cure

    cures = [cure(facts.power, supply, most, more_drops) for more_drops in (True, False)]
    for changes in [one for place, one in enumerate(cures) if one and one not in cures[:place]]:
        yield Fix("; ".join(_words(facts, changes)), tuple(_edits(facts, changes)))


def _words(facts: Facts, changes: Changes) -> Iterator[str]:
    for wire, size in changes.sizes.items():
        yield f"lay {wire_words(wire)} in {size.text}"
    for drop, size, length in _pairs(changes):
        at = length_words(drop.place or 0.0)
        yield f"solder a feeder from {_short(drop.wire.name)} to {_name(facts, drop)} at {at}, {_wire(size, length)}"


def _edits(facts: Facts, changes: Changes) -> Iterator[Edit]:
    for wire, size in changes.sizes.items():
        yield resized(facts, wire, size)
    for drop, size, length in _pairs(changes):
        near = facts.layout.pieces[drop.piece].statement.at
        crossed = "  crossed" if drop.wire.leg else ""
        line = f"feeder {_short(drop.wire.name)} -> {_name(facts, drop)}  at {length_words(drop.place or 0.0)}"
        yield add_line(beside(facts, Feeder, near), f"{line}  {size.text}  {length_words(length)}{crossed}")


def _pairs(changes: Changes) -> Iterator[tuple[Drop, WireSize, float]]:
    """The new drops to left rails, each of which stands for its pair: its leg says whether that is crossed."""
    return (one for place, one in enumerate(changes.drops) if place % 2 == 0)


def _wire(size: WireSize, length: float) -> str:
    return f"{length_words(length)} of {size.text}"


def _name(facts: Facts, drop: Drop) -> str:
    return local(facts.layout.pieces[drop.piece])


def _short(name: str) -> str:
    """A supply or terminal as its own file calls it."""
    return name.rpartition(".")[2]


def resized(facts: Facts, wire: Bus | Feeder, size: WireSize) -> Edit:
    """A bus run or feeder in another size, whether its line says one or a limit says it for all."""
    if wire.size is not None:
        return replace(where(wire, wire.size), size.text)
    if isinstance(wire, Bus):
        return _after(wire, wire.length or wire.terminal, f"  {size.text}")
    length = facts.power.wire_of(wire)[1]
    return _after(wire, wire.place or wire.rail, f"  {size.text}" + (f"  {length.text}" if length else ""))


def _after(statement: Statement, part: Quantity | str, text: str) -> Edit:
    end = where(statement, part).end  # type: ignore[arg-type]
    return replace(Span(statement.at.path, end, end), text)


def trip_at(statement: District, current: float) -> Edit:
    """A district whose breaker opens at that many amperes."""
    words = f"{round(current, 2):g} A"
    if statement.trips is not None:
        return replace(where(statement, statement.trips), words)
    return _after(statement, statement.booster, f"  trips {words}")


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
