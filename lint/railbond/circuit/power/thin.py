"""Wires that carry less than their breaker lets through."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping

from railbond.layout.model import Layout
from trackplan.quantities import WireSize
from trackplan.record import NamedTuple
from trackplan.statements import Bus, Feeder

from .guards import Guard
from .wires import Sized, Statement, length_of, size_of

SIZES = ("bus-size", "feeder-size")
"""The limits that give a size to wires that tell none."""


class ThinWire(NamedTuple):
    """A wire, its size, whether it is a short drop in free air, and the breaker that lets too much through it."""

    wire: Bus | Feeder
    size: WireSize
    short: bool
    guard: Guard


def thin_wires(
    layout: Layout, guards: Mapping[str, Guard], wires: Mapping[Statement, frozenset[str]]
) -> Iterator[ThinWire]:
    """Every such wire of some, which are told with the supplies behind each, and the breaker that lets most through."""
    from .copper import carries, is_short

    behind = {one: _most(guards, one) for one in set(wires.values())}
    carried: dict[tuple[str, bool], float] = {}  # plans have few sizes
    for wire, supplies in wires.items():
        size, length, guard = size_of(layout, wire), length_of(layout, wire), behind[supplies]
        if size and guard:
            short = is_short(wire, length)
            if (known := (size.text, short)) not in carried:
                carried[known] = carries(size, short)
            if carried[known] < guard.passes:
                yield ThinWire(wire, size, short, guard)


def _most(guards: Mapping[str, Guard], supplies: Iterable[str]) -> Guard | None:
    """The breaker of some supplies that lets most through, of equals by name."""
    own = (guard for name in sorted(supplies) if (guard := guards.get(name)))
    return max(own, key=lambda one: one.passes, default=None)


def may_be_thin(layout: Layout, sized: Sized) -> bool:
    """Whether the plan tells the size of any wire."""
    return any(one.size for one in sized.wires) or any(name in layout.limits for name in SIZES)
