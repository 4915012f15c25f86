"""The wires of a plan and the devices they hang on, as jobs."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import chain

from railbond.circuit.facts import Facts
from railbond.circuit.power.wires import length_of, size_of
from railbond.circuit.wiring import contacts
from railbond.layout.model import Drop, FrogFeed, Supply, Wire
from trackplan.statements import Bus, Feeder

from .job import Job


def wire_jobs(facts: Facts) -> Iterator[Job]:
    """Frogs' feeds, drops, bus wires, common rails and devices."""
    return chain(_frogs(facts), _drops(facts), _buses(facts), _commons(facts), _devices(facts))


def leg(facts: Facts, wire: Wire) -> str:
    """The name of a wire's leg: by custom its colour."""
    layout = facts.layout
    legs = layout.supplies[wire.name].legs if wire.name in layout.supplies else layout.terminals[wire.name]
    return legs[wire.leg]


def drop_place(drop: Drop) -> str:
    """`west at 45 cm`, from the segment's start; a piece without places by its name alone."""
    return drop.piece if drop.place is None else f"{drop.piece} at {drop.place * 100:g} cm"


def _drops(facts: Facts) -> Iterator[Job]:
    for drop in facts.layout.drops:
        metal = facts.layout.pieces[drop.piece].template.metals[drop.metal]
        note = f"through contacts: only while {drop.when[0]} stands {' or '.join(drop.when[1])}" if drop.when else ""
        size, length = _size(facts, drop.statement)
        yield Job(
            "drop", drop.piece, drop_place(drop), metal.words, leg(facts, drop.wire), size, length,
            f"{drop.wire.name}.{leg(facts, drop.wire)}", note, drop.statement.at,
        )  # fmt: skip


def _buses(facts: Facts) -> Iterator[Job]:
    for run in facts.layout.runs:
        size, length = _size(facts, run.statement)
        for one in (0, 1):
            far = leg(facts, Wire(run.terminal, 1 - one if run.crossed else one))
            near = leg(facts, Wire(run.source, one))
            note = "crossed" if run.crossed else ""
            place, source = f"{run.terminal}.{far}", f"{run.source}.{near}"
            yield Job("bus", run.terminal, place, "", near, size, length, source, note, run.statement.at)


def _size(facts: Facts, statement: Bus | Feeder) -> tuple[str, float | None]:
    size, length = size_of(facts.layout, statement), length_of(facts.layout, statement)
    return size.text if size else "", None if length is None else float(length)


def _commons(facts: Facts) -> Iterator[Job]:
    for one in facts.layout.commons:
        legs = ", ".join(f"{wire.name}.{leg(facts, wire)}" for wire in one.legs)
        yield Job("common", one.legs[0].name, legs, note="one wire for all of these", at=one.statement.at)


def _frogs(facts: Facts) -> Iterator[Job]:
    for feed in facts.layout.frogs.values():
        at = feed.statement.at
        if feed.kind == "automatic":
            yield Job("frog", feed.piece, "automatic frog unit", source=feed.supply or "", at=at)
        elif feed.kind == "unpowered":
            yield Job("frog", feed.piece, "leave it without a wire", at=at)
        else:
            yield from _contacts(facts, feed)


def _contacts(facts: Facts, feed: FrogFeed) -> Iterator[Job]:
    """Which contact goes to which wire, frog by frog."""
    piece = facts.layout.pieces[feed.piece]
    for frog in piece.template.frogs:
        words = piece.template.metals[frog.metal].words
        reach = [(at, f"{w.name}.{leg(facts, w)}", leg(facts, w)) for at, w in contacts(facts.wiring, feed, frog)]
        if feed.kind == "stock rails":
            metals = piece.template.metals
            reach = [((piece.name, at), f"{piece.name}'s {metals[one].words}", "") for at, one in frog.wants.items()]
        for (mover, position), source, colour in reach:
            place = f"contact closed while {mover} stands {position}"
            yield Job("frog", piece.name, place, words, colour, source=source, at=feed.statement.at)


def _devices(facts: Facts) -> Iterator[Job]:
    words = {"district": "breaker", "reverser": "auto-reverser", "block": "detector", "cab": "cab", "plug": "bus plug"}
    for supply in facts.layout.supplies.values():
        what = "toggle" if supply.choices else words[supply.kind]
        yield Job("device", supply.name, what, source=_before(supply), note=_trips(supply), at=supply.statement.at)
    for name, booster in facts.layout.boosters.items():
        ratings = f"{booster.voltage.text} {booster.current.text}"
        yield Job("device", name, "booster", note=ratings, at=booster.at)
    for end, lamp in facts.layout.lamps.items():
        yield Job("device", end.piece, f"lamp across the rails at {end}", note=lamp.current.text, at=lamp.at)


def _before(supply: Supply) -> str:
    """What a supply hangs on."""
    if supply.choices:
        return " or ".join(supply.choices)
    return supply.district if supply.district and supply.district != supply.name else supply.booster or ""


def _trips(supply: Supply) -> str:
    trips = getattr(supply.statement, "trips", None)
    return f"trips at {trips.text}" if trips is not None else ""
