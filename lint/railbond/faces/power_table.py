"""The table of a plan's supplies: worst drop, weakest short, room to grow, copper."""

from __future__ import annotations

from collections.abc import Iterator

from railbond.care import CAUTIONS
from railbond.circuit.facts import Facts
from railbond.circuit.plain_words import setting_said
from railbond.circuit.power.growth import Growth, copper, grams, growth
from railbond.circuit.power.spots import Spot
from railbond.findings import Danger
from railbond.fixes.power_words import amperes, meters, percent, place_words, taken_for, volts
from railbond.inspection import UNSIZED

from .folding import paragraph

TRIED: tuple[Danger, ...] = ("rewires", "breaker")
"""What a table of shorts and drops leads hands to: thicker wire, and a coin across the rails."""
HEAD = ("supply", "load", "worst drop", "weakest short", "opens at", "may grow by")


def told(facts: Facts, width: int = 80) -> str:
    """The table, then what each row rests on."""
    if facts.power.sized.nothing_said:
        return paragraph(f"Nothing to tell: {UNSIZED}. Write sizes and lengths at the wires.", width)
    parts = []
    worst = facts.power.worst
    if worst:
        parts.append(_table([HEAD, *(_row(facts, spot) for spot in worst.values())]))
        parts += [_filled(text, width) for text in _details(facts)]
        parts.append(_filled(f"T{taken_for(facts).text[1:]}.", width))
    parts += [_filled(f"Take care: {CAUTIONS[danger]}", width) for danger in TRIED if worst]
    parts += [_filled(f"{name}: {_silent(facts, name)}.", width) for name in facts.layout.supplies if name not in worst]
    return "\n\n".join(parts)


def _row(facts: Facts, spot: Spot) -> tuple[str, ...]:
    guard, load = facts.power.guards.get(spot.supply), facts.power.running(spot.supply)
    if guard is None:
        return spot.supply, "", f"{volts(spot.ohms)} an ampere", "", "", ""
    lost = spot.ohms * (load or 1.0)
    drop = f"{volts(lost)}, {percent(lost / guard.volts)}" if load else f"{volts(lost)} an ampere"
    room = growth(facts.power, spot)
    return (
        spot.supply, amperes(load) if load else "not told", drop, amperes(guard.short(spot.ohms)),
        amperes(guard.needed(facts.layout)), f"{_about(room.track)} of track" if room and room.track else "nothing",
    )  # fmt: skip


def _table(rows: list[tuple[str, ...]]) -> str:
    widths = [max(len(row[column]) for row in rows) for column in range(len(HEAD))]
    lines = ("  ".join(cell.ljust(width) for cell, width in zip(row, widths, strict=True)) for row in rows)
    return "\n".join(line.rstrip() for line in lines)


def _details(facts: Facts) -> Iterator[str]:
    """For each supply where its worst spot is, what is met first, and its copper."""
    for spot in facts.power.worst.values():
        setting = f" (with {setting_said(facts, spot.setting)})" if spot.setting else ""
        room = growth(facts.power, spot)
        grows = f"; {_room(room)}" if room else ""
        wires = copper(facts.power, spot.supply)
        listed = ", ".join(f"{meters(length)} of {size.text}" for size, length in wires.items())
        yield (
            f"{spot.supply}: worst {place_words(facts, spot)}{setting}, where the loop has {spot.ohms:.2f} Ω{grows}. "
            f"Wire, both legs: {listed}; {grams(wires):.0f} g of copper."
        )


def _room(room: Growth) -> str:
    if not room.track:
        return f"{room.first} is met already"
    bus = f", or {_about(room.bus)} more bus of {room.size.text}," if room.bus and room.size else ""
    return f"with {_about(room.track)} more track beyond it{bus} {room.first} is met"


def _about(length: float) -> str:
    """A length rounded down to a tenth of a meter."""
    return f"{length * 10 // 1 / 10:g} m"


def _silent(facts: Facts, name: str) -> str:
    """Why nothing is told of a supply."""
    if name in facts.power.unknown:
        return "not worked out, for some of its wires have no size or no length"
    return "not worked out: it feeds no track with both legs, or is joined to another supply through metal"


def _filled(text: str, width: int) -> str:
    return paragraph(text, width, rest="    ")
