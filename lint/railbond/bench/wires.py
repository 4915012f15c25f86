"""The wires of a plan and the devices they hang on, as jobs."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import chain

from railbond.circuit.facts import Facts
from railbond.circuit.power.wires import length_of, size_of
from railbond.layout.model import Drop, Supply, Wire
from trackplan.statements import Bus, Feeder

from .job import Job, Task

BRUSHES = "the brush of the bridge's left rail is at the head end, that of its right rail at the tail"


def wire_tasks(facts: Facts) -> Iterator[Task]:
    """Drops, bus wires, common rails and devices."""
    return chain(_drops(facts), _rings(facts), _buses(facts), _commons(facts), _devices(facts))


def leg(facts: Facts, wire: Wire) -> str:
    """The name of a wire's leg: by custom its color."""
    return facts.layout.legs_of(wire.name)[wire.leg]


def drop_place(drop: Drop) -> str:
    """`west at 45 cm`, from the segment's start; a piece without places by its name alone."""
    return drop.piece if drop.place is None else f"{drop.piece} at {drop.place * 100:g} cm"


def _drops(facts: Facts) -> Iterator[Task]:
    for drop in facts.layout.drops:
        if drop.statement.split is not None and drop.when:
            continue
        metal = facts.layout.pieces[drop.piece].template.metals[drop.metal]
        note = f"through contacts: only while {drop.when[0]} stands {' or '.join(drop.when[1])}" if drop.when else ""
        ends = facts.wiring.wire(drop.wire), facts.wiring.metal(drop.piece, drop.metal)
        yield Task(_drop(facts, drop, drop_place(drop), metal.words, note), ends)


def _drop(facts: Facts, drop: Drop, place: str, rail: str, note: str) -> Job:
    size, length = _size(facts, drop.statement)
    color = leg(facts, drop.wire)
    source = f"{drop.wire.name}.{color}"
    return Job("drop", drop.piece, place, rail, color, size, length, source, note, drop.statement.at)


def _rings(facts: Facts) -> Iterator[Task]:
    """A split ring has two wires that stay where they are, one to each half."""
    for drop in facts.layout.drops:
        template, split = facts.layout.pieces[drop.piece].template, drop.statement.split
        if split is not None and drop.when and template.bridge and drop.metal == template.bridge[0]:
            first = (template.headings[drop.when[1][0]] - split) % 360 < 180
            start = float(split) % 360 if first else (float(split) + 180) % 360
            half = f"{drop.piece} split ring, half from {start:g} to {(start + 180) % 360:g} degrees"
            yield Task(_drop(facts, drop, half, "half ring", BRUSHES))


def _buses(facts: Facts) -> Iterator[Task]:
    for run in facts.layout.runs:
        size, length = _size(facts, run.statement)
        for one in (0, 1):
            wires = Wire(run.source, one), Wire(run.terminal, 1 - one if run.crossed else one)
            near, far = (leg(facts, wire) for wire in wires)
            note = "crossed" if run.crossed else ""
            place, source = f"{run.terminal}.{far}", f"{run.source}.{near}"
            job = Job("bus", run.terminal, place, "", near, size, length, source, note, run.statement.at)
            yield Task(job, (facts.wiring.wire(wires[0]), facts.wiring.wire(wires[1])))


def _size(facts: Facts, statement: Bus | Feeder) -> tuple[str, float | None]:
    size, length = size_of(facts.layout, statement), length_of(facts.layout, statement)
    return size.text if size else "", None if length is None else float(length)


def _commons(facts: Facts) -> Iterator[Task]:
    for one in facts.layout.commons:
        legs = ", ".join(f"{wire.name}.{leg(facts, wire)}" for wire in one.legs)
        job = Job("common", one.legs[0].name, legs, note="one wire for all of these", at=one.statement.at)
        yield Task(job, (facts.wiring.wire(one.legs[0]), facts.wiring.wire(one.legs[-1])))


def _devices(facts: Facts) -> Iterator[Task]:
    words = {"district": "breaker", "reverser": "auto-reverser", "block": "detector", "cab": "cab", "plug": "bus plug"}
    for supply in facts.layout.supplies.values():
        what, at = "toggle" if supply.choices else words[supply.kind], supply.statement.at
        yield Task(Job("device", supply.name, what, source=_before(supply), note=_trips(supply), at=at))
        yield from _poles(facts, supply)
    for name, booster in facts.layout.boosters.items():
        ratings = f"{booster.voltage.text} {booster.current.text}"
        yield Task(Job("device", name, "booster", note=ratings, at=booster.at))
    for end, lamp in facts.layout.lamps.items():
        yield Task(Job("device", end.piece, f"lamp across the rails at {end}", note=lamp.current.text, at=lamp.at))


def _poles(facts: Facts, supply: Supply) -> Iterator[Task]:
    """A toggle has a pole for each leg of its block, and a throw for each supply that it may be given to."""
    for one in (0, 1):
        color = leg(facts, Wire(supply.name, one))
        for choice in supply.choices:
            place = f"toggle, pole {color}: thrown while {supply.name} stands {choice}"
            source, wires = f"{choice}.{leg(facts, Wire(choice, one))}", (Wire(supply.name, one), Wire(choice, one))
            job = Job("device", supply.name, place, color=color, source=source, at=supply.statement.at)
            yield Task(job, (facts.wiring.wire(wires[0]), facts.wiring.wire(wires[1])))


def _before(supply: Supply) -> str:
    """What a supply hangs on."""
    if supply.choices:
        return " or ".join(supply.choices)
    district = supply.detector or supply.district
    return district if district and district != supply.name else supply.booster or ""


def _trips(supply: Supply) -> str:
    trips = getattr(supply.statement, "trips", None)
    return f"trips at {trips.text}" if trips is not None else ""
