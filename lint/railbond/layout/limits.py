"""The limits that a plan may set: the kind of quantity that each takes, and what it is where the plan does not say."""

from __future__ import annotations

from trackplan.quantities import (
    Current,
    Duration,
    Length,
    Number,
    Quantity,
    Resistance,
    Share,
    Speed,
    Temperature,
    WireSize,
)
from trackplan.record import NamedTuple
from trackplan.statements import Limit

from .doubts import doubt
from .model import Layout
from .names import Names
from .symbols import SymbolTable


class Bound(NamedTuple):
    """What a limit takes, in SI units; `unless_said` is None where there is then no such limit."""

    kind: type[Quantity]
    unless_said: float | None
    example: str
    source: str
    """Where `unless_said` comes from."""


LIMITS = {
    "proof-steps": Bound(Number, 50_000, "50000", "estimate: plans of the trade stay far below it"),
    "feeder-spacing": Bound(Length, 2.0, "2 m", "common practice: a feeder every 1 to 2 m (3 to 6 ft)"),
    "voltage-drop": Bound(Share, 0.05, "5 %", "common practice: a drop of 5 % is seen in a headlight"),
    "running-load": Bound(Current, None, "2 A", "the plan's engines together"),
    "trip-margin": Bound(Share, 0.25, "25 %", "common practice for setting breakers"),
    "power-on": Bound(Current, None, "0.5 A", "no usual value: it is what the plan says"),
    "long-bus": Bound(Length, 10.0, "10 m", "common practice: beyond some 10 m (30 ft) the bus is twisted and ended"),
    "bus-size": Bound(WireSize, None, "14 AWG", "no usual value: it is what the plan says"),
    "feeder-size": Bound(WireSize, None, "22 AWG", "no usual value: it is what the plan says"),
    "feeder-length": Bound(Length, None, "20 cm", "no usual value: it is what the plan says"),
    "joiner-resistance": Bound(Resistance, 0.02, "20 mohm", "estimate of a joiner that has tarnished a little"),
    "contact-resistance": Bound(
        Resistance, 0.05, "50 mohm", "estimate: a new contact of a switch machine, as their makers give it"
    ),
    "temperature": Bound(Temperature, 20.0, "40 C", "the temperature for which standards give resistances (IEC 60028)"),
    "crawl-speed": Bound(Speed, 0.02, "20 mm/s", "estimate of an engine at its slowest"),
    "gap-length": Bound(Length, 0.0, "1 mm", "the careful side: a wheel bridges a gap of no length soonest"),
    "gap-stagger": Bound(
        Length, 0.01, "10 mm", "common practice: cuts opposite each other, a few millimeters apart at most"
    ),
    "single-wheel": Bound(Length, 0.025, "25 mm", "estimate: what a speck of dirt makes an engine stop within"),
    "stall-time": Bound(Duration, 0.0, "50 ms", "the careful side: an engine without a capacitor or flywheel"),
    "wheel-code": Bound(Number, None, "88", "the scale's widest wheel of RP-25"),
    "drop-cost": Bound(Number, 1.0, "1", "common practice: one wire drilled, soldered and tied in is the measure"),
    "cut-cost": Bound(Number, 1.0, "1", "common practice: a rail cut and filled takes as long as a drop"),
    "bus-cost": Bound(Number, 0.5, "0.5", "common practice: a meter of bus pulled and stapled"),
    "copper-cost": Bound(
        Number, 0.1, "0.1", "estimate: a meter of wire, for each mm2 above what is usual (bus 2.5 mm2, drop 0.5 mm2)"
    ),
    "bond-cost": Bound(Number, 2.0, "2", "common practice: the two jumpers of one turnout"),
    "contact-cost": Bound(Number, 3.0, "3", "common practice: a changeover contact and its three wires"),
    "unit-cost": Bound(Number, 12.0, "12", "estimate: an automatic unit's price and its wires"),
    "reverser-cost": Bound(Number, 25.0, "25", "estimate: its price and its wires"),
    "breaker-cost": Bound(Number, 10.0, "10", "estimate: its price and its wires"),
    "booster-cost": Bound(Number, 60.0, "60", "estimate: its price and its wires"),
}

LEAST = dict.fromkeys(("feeder-spacing", "long-bus", "feeder-length", "single-wheel"), 0.001)
"""Meters below which a limit cannot be meant, and counts as not said."""


def limit(layout: Layout, name: str) -> float | None:
    """A limit as the plan sets it, else as it is unless said."""
    said, bound = layout.limits.get(name), LIMITS[name]
    return float(said.value) if said and _is_meant(said, bound) else bound.unless_said


def _is_meant(said: Limit, bound: Bound) -> bool:
    return isinstance(said.value, bound.kind) and said.value >= LEAST.get(str(said.name), 0.0)


def check_limits(symbols: SymbolTable, names: Names) -> None:
    """Tells limits that no rule knows, and those that are set in the wrong unit."""
    for one in symbols.of(Limit):
        bound = LIMITS.get(one.name)
        if bound is None:
            message = f"no rule has a limit called `{one.name}`"
            names.misspelled(one, one.name, message, names.near(one.name, LIMITS))
        elif not isinstance(one.value, bound.kind):
            wanted = f"`limit {one.name} {bound.example}`"
            message = f"`{one.value.text}` is no value for this limit: expected one as in {wanted}"
            names.fault("impossible", one, one.value, message, name=one.name)
        elif isinstance(one.value, Length) and not _is_meant(one, bound):
            doubt(names, one, one.value, "shorter than any limit that can be kept, and is not heeded", one.name)
