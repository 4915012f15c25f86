"""What a wiring costs, by the table of costs."""

from __future__ import annotations

from collections.abc import Iterable

from trackplan.statements import (
    Booster,
    Bus,
    ClosureBond,
    Cut,
    District,
    Feeder,
    FrogAutomatic,
    FrogFromStockRails,
    FrogSwitched,
    Gap,
    Reverser,
    Statement,
)

from .wishes import WiringCosts

USUAL_RUN = 2.0
"""Meters of a run that does not tell its length."""
USUAL_BUS, USUAL_DROP = 2.5, 0.5
"""Cross-sections in mm2 (14 AWG and 22 AWG lie below) up to which a wire costs no more for its copper."""


def cost(statements: Iterable[Statement], costs: WiringCosts) -> float:
    """The sum over all that is cut, soldered, run and bought."""
    return sum(price(one, costs) for one in statements)


def price(one: Statement, costs: WiringCosts) -> float:
    """What one statement asks for."""
    if isinstance(one, Feeder):
        single = "." in one.rail and not one.rail.endswith(".bridge")
        copper = _thicker(one, USUAL_DROP) * float(one.length or 0.0)
        return costs.drop * (1 if single else 2) + costs.copper * copper
    if isinstance(one, Gap):
        return costs.cut * (2 if one.rail == "both rails" else 1)
    if isinstance(one, Bus):
        return (costs.bus + costs.copper * _thicker(one, USUAL_BUS)) * float(one.length or USUAL_RUN)
    if isinstance(one, Cut):
        return costs.cut * (4 if one.what == "around frog" else 2)
    kinds = {
        ClosureBond: costs.bond, FrogAutomatic: costs.unit, FrogSwitched: costs.contact,
        FrogFromStockRails: costs.contact, Reverser: costs.reverser, District: costs.breaker, Booster: costs.booster,
    }  # fmt: skip
    return kinds.get(type(one), 0.0)


def _thicker(one: Bus | Feeder, usual: float) -> float:
    """By how many mm2 a wire is thicker than usual."""
    return max(float(one.size or 0.0) - usual, 0.0)
