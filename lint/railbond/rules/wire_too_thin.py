"""Wires that carry less than their breaker lets through."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from railbond.circuit.facts import Facts
from railbond.findings import Finding, Fix, Step
from trackplan.edit import replace
from trackplan.quantities import WireSize
from trackplan.statements import Bus, Feeder, Limit, where

from .power_mends import resized
from .power_words import BURNS, amperes, wire_words
from .rule import Rule

if TYPE_CHECKING:
    from railbond.circuit.power.guards import Guard

Wire = Bus | Feeder


def find(facts: Facts) -> Iterator[Finding]:
    """One finding for each line that gives a wire its size: its own, or the limit that gives it to many."""
    if not any(one.size for one in facts.power.sized.wires) and not _limits(facts):
        return
    worst: dict[Wire | Limit, tuple[Wire, WireSize, Guard]] = {}
    for wire, supplies in facts.power.supplies_by_wire.items():
        size = facts.power.wire_of(wire)[0]
        guards = [guard for name in sorted(supplies) if (guard := facts.power.guards.get(name))]
        guard = max(guards, key=lambda one: one.passes, default=None)
        if size and guard and carries(facts, wire, size) < guard.passes:
            line = wire if wire.size else _limits(facts)["bus-size" if isinstance(wire, Bus) else "feeder-size"]
            if line not in worst or guard.passes > worst[line][2].passes:
                worst[line] = wire, size, guard
    for line, found in worst.items():
        yield _finding(facts, line, *found)


def _limits(facts: Facts) -> dict[str, Limit]:
    return {name: one for name, one in facts.layout.limits.items() if name in ("bus-size", "feeder-size")}


def carries(facts: Facts, wire: Wire, size: WireSize) -> float:
    """Amperes that a wire of that size carries where it lies."""
    from railbond.circuit.power import copper

    return copper.carries(size, _is_short(facts, wire))


def _is_short(facts: Facts, wire: Wire) -> bool:
    """Whether a wire is a short drop in free air; a feeder of unknown length is taken for one."""
    from railbond.circuit.power.copper import SHORT

    length = facts.power.wire_of(wire)[1]
    return isinstance(wire, Feeder) and (length is None or length <= SHORT)


def _finding(facts: Facts, line: Wire | Limit, wire: Wire, size: WireSize, guard: Guard) -> Finding:
    most = carries(facts, wire, size)
    kind = "a short drop in free air" if _is_short(facts, wire) else "a run"
    names = [str(wire.terminal)] if isinstance(wire, Bus) else [str(wire.rail).split(".")[0], str(wire.rail)]
    return Finding(
        RULE.name, RULE.level, RULE.happens, where(line, line.value if isinstance(line, Limit) else size),
        f"{size.text} carries {amperes(most)} as {kind}, and {guard.breaker} lets {amperes(guard.passes)} through: "
        f"{wire_words(wire)} may burn before the breaker opens.",
        (Step(guard.at, f"{guard.breaker} trips at {guard.trips.text}"),), "",
        tuple(_fix(facts, line, wire, size, guard)), (*dict.fromkeys(names), guard.supply.name),
    )  # fmt: skip


def _fix(facts: Facts, line: Wire | Limit, wire: Wire, size: WireSize, guard: Guard) -> Iterator[Fix]:
    from railbond.circuit.power.copper import enough

    one = enough(size, _is_short(facts, wire), guard.passes)
    if isinstance(line, Limit):
        yield Fix(f"use {one.text} for all of these wires", (replace(where(line, line.value), one.text),))
    else:
        yield Fix(f"lay {wire_words(wire)} in {one.text}", (resized(facts, wire, one),))


_PLAN = """\
plan      "Strong booster"
scale     O
booster   B1    15 V  10 A
district  main  from B1
bus       main -> P1  3 m  14 AWG
segment   line  stop -> stop  1.5 m
feeder    P1 -> line  at 75 cm  {drop}  20 cm
"""

RULE = Rule(
    name="wire-too-thin",
    level="error",
    happens="heat",
    turn=20,
    cause=False,
    find=find,
    summary="A wire that carries less than the breaker before it lets through.",
    railroad=(
        "A fault that draws a little less than the breaker's trip current heats the wire above what its insulation "
        "stands: it softens, smokes and bares the copper, out of sight under the bench."
    ),
    meter=(
        "No meter finds this: read the size on the wire or measure its copper, and compare it with the trip current "
        "that is printed on the breaker or booster."
    ),
    mend="A thicker wire, or a breaker of its own before the thin one, set to what it carries.",
    caution=BURNS,
    fails=_PLAN.format(drop="22 AWG"),
    passes=_PLAN.format(drop="20 AWG"),
)
RULES = (RULE,)
