"""Whether the wires of a plan are thick and near enough: asked of the network alone, without any mend."""

from __future__ import annotations

from railbond.circuit.facts import Facts
from railbond.layout.limits import limit
from railbond.rules.wire_too_thin import find as too_thin

ENOUGH = 1.0


def strain(facts: Facts) -> float:
    """How many times as much resistance as it may have the worst loop of a supply has, for its breaker to open at a
    short and for no load to lose too much; more than `ENOUGH` too where a wire does not bear what a breaker lets
    through."""
    power, most = facts.power, dict[str, float]()
    share = limit(facts.layout, "voltage-drop") or 0.0
    for supply, guard in power.guards.items():
        load = power.running(supply)
        drop = share * guard.volts / load if load else float("inf")
        most[supply] = min(guard.most_ohms(facts.layout), drop)
    thin = 2 * ENOUGH if any(too_thin(facts)) else 0.0
    if not most or not power.may_exceed(most):
        return thin
    ratios = [spot.ohms / most[name] if most[name] > 0 else 0.0 for name, spot in power.worst.items() if name in most]
    return max([*ratios, thin])
