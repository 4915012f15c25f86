"""The limits that a plan may set: the kind of quantity that each takes, and what it is where the plan does not say."""

from __future__ import annotations

from typing import NamedTuple

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
from trackplan.statements import Limit

from .model import Layout
from .names import Names
from .symbols import SymbolTable


class Bound(NamedTuple):
    """What a limit takes, in SI units; `unless_said` is None where there is then no such limit."""

    kind: type[Quantity]
    unless_said: float | None
    example: str


LIMITS = {
    "proof-steps": Bound(Number, 50_000, "50000"),
    "feeder-spacing": Bound(Length, 2.0, "2 m"),
    "voltage-drop": Bound(Share, 0.05, "5 %"),
    "running-load": Bound(Current, None, "2 A"),
    "trip-margin": Bound(Share, 0.25, "25 %"),
    "power-on": Bound(Current, None, "0.5 A"),
    "long-bus": Bound(Length, 10.0, "10 m"),
    "bus-size": Bound(WireSize, None, "14 AWG"),
    "feeder-size": Bound(WireSize, None, "22 AWG"),
    "feeder-length": Bound(Length, None, "20 cm"),
    "joiner-resistance": Bound(Resistance, 0.02, "20 mohm"),
    "contact-resistance": Bound(Resistance, 0.05, "50 mohm"),
    "temperature": Bound(Temperature, 20.0, "40 C"),
    "crawl-speed": Bound(Speed, 0.02, "20 mm/s"),
    "gap-length": Bound(Length, 0.0, "1 mm"),
    "gap-stagger": Bound(Length, 0.01, "10 mm"),
    "single-wheel": Bound(Length, 0.025, "25 mm"),
    "stall-time": Bound(Duration, 0.0, "50 ms"),
    "wheel-code": Bound(Number, None, "88"),
}


def limit(layout: Layout, name: str) -> float | None:
    """A limit as the plan sets it, else as it is unless said."""
    said, bound = layout.limits.get(name), LIMITS[name]
    return float(said.value) if said and isinstance(said.value, bound.kind) else bound.unless_said


def check_limits(symbols: SymbolTable, names: Names) -> None:
    """Tells limits that no rule knows, and those that are set in the wrong unit."""
    for one in symbols.of(Limit):
        bound = LIMITS.get(one.name)
        if bound is None:
            message = f"no rule has a limit called `{one.name}`"
            names.misspelt(one, one.name, message, names.near(one.name, LIMITS))
        elif not isinstance(one.value, bound.kind):
            wanted = f"`limit {one.name} {bound.example}`"
            message = f"`{one.value.text}` is no value for this limit: expected one as in {wanted}"
            names.fault("impossible", one, one.value, message, name=one.name)
