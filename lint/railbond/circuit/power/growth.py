"""How far a supply's layout may grow before the first limit is met, and what copper it has."""

from __future__ import annotations

from typing import NamedTuple

from railbond.layout.limits import limit
from trackplan.quantities import WireSize
from trackplan.statements import Bus, Feeder

from .chain import chain
from .copper import resistivity
from .solved import SolvedNetwork
from .spots import Spot

GRAMS = 8.89
"""Copper's weight, of each mm² times m (ASTM B496)."""


class Growth(NamedTuple):
    """Meters that may be added beyond the worst spot, and the rule that is met first; `bus` is None where no run leads
    there, else meters of the size `size`."""

    track: float
    bus: float | None
    size: WireSize | None
    first: str


def growth(power: SolvedNetwork, spot: Spot) -> Growth | None:
    """Nothing where no limit applies: a supply without a booster."""
    guard = power.guards.get(spot.supply)
    if guard is None:
        return None
    bounds = {"short-will-not-trip": guard.most_ohms(power.layout)}
    share, load = limit(power.layout, "voltage-drop"), power.running(spot.supply)
    if share and load:
        bounds["voltage-drop"] = share * guard.volts / load
    first = min(bounds, key=lambda rule: bounds[rule])
    left = max(bounds[first] - spot.ohms, 0.0)
    size = _last_run(power, spot)
    each = 2 * power.materials.rail(power.layout.pieces[spot.piece])
    bus = left / (2 * resistivity(size, power.materials.celsius)) if size else None
    return Growth(left / each, bus, size, first)


def _last_run(power: SolvedNetwork, spot: Spot) -> WireSize | None:
    home = power.home(spot)
    runs = [loss.wire for loss in chain(home.frame, home.islands, spot) if isinstance(loss.wire, Bus)]
    return power.wire_of(runs[-1])[0] if runs else None


def copper(power: SolvedNetwork, supply: str) -> dict[WireSize, float]:
    """Meters of wire of each size behind a supply, both legs counted, the thickest first."""
    wires: list[tuple[str, Bus | Feeder, int]] = [(run.source, run.statement, 2) for run in power.layout.runs]
    wires += [(drop.wire.name, drop.statement, 1) for drop in power.layout.drops]
    meters: dict[str, tuple[WireSize, float]] = {}
    for source, wire, legs in wires:
        size, length = power.wire_of(wire)
        if size and length and supply in power.supplies_of(source):
            before = meters.get(size.text, (size, 0.0))[1]
            meters[size.text] = size, before + legs * length
    return dict(sorted(meters.values(), reverse=True))


def grams(wires: dict[WireSize, float]) -> float:
    """The weight of so much copper."""
    return sum(GRAMS * float(size) * meters for size, meters in wires.items())
