"""Wires that carry less than their breaker lets through."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from trackplan.quantities import WireSize
from trackplan.record import NamedTuple
from trackplan.statements import Bus, Feeder

if TYPE_CHECKING:
    from .guards import Guard
    from .solved import SolvedNetwork

SIZES = ("bus-size", "feeder-size")
"""The limits that give a size to wires that tell none."""


class ThinWire(NamedTuple):
    """A wire, its size, whether it is a short drop in free air, and the breaker that lets too much through it."""

    wire: Bus | Feeder
    size: WireSize
    short: bool
    guard: Guard


def thin_wires(power: SolvedNetwork) -> Iterator[ThinWire]:
    """Every such wire, behind the breaker that lets most through."""
    if not any(one.size for one in power.sized.wires) and not any(name in power.layout.limits for name in SIZES):
        return
    from .copper import carries, is_short

    for wire, supplies in power.supplies_by_wire.items():
        size, length = power.wire_of(wire)
        guards = [guard for name in sorted(supplies) if (guard := power.guards.get(name))]
        guard = max(guards, key=lambda one: one.passes, default=None)
        if size and guard and carries(size, short := is_short(wire, length)) < guard.passes:
            yield ThinWire(wire, size, short, guard)
