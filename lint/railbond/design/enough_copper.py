"""Whether the wires of a plan are thick and near enough: asked of the network alone, without any mend."""

from __future__ import annotations

from railbond.circuit.facts import Facts
from railbond.layout.limits import limit
from railbond.rules.wire_too_thin import find as too_thin


def is_enough(facts: Facts) -> bool:
    """Whether wires bear what breakers let through, every short opens its breaker, and no load loses too much."""
    power, most = facts.power, dict[str, float]()
    share = limit(facts.layout, "voltage-drop") or 0.0
    for supply, guard in power.guards.items():
        load = power.running(supply)
        drop = share * guard.volts / load if load else float("inf")
        most[supply] = min(guard.most_ohms(facts.layout), drop)
    if any(too_thin(facts)):
        return False
    if not most or not power.may_exceed(most):
        return True
    return all(spot.ohms <= most.get(supply, float("inf")) for supply, spot in power.worst.items())
