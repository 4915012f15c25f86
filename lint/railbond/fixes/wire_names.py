"""By which name a plan would have a wire that carries a leg of a supply, near a rail."""

from __future__ import annotations

from railbond.circuit.facts import Facts
from railbond.circuit.graph import SupplyLeg
from railbond.layout.model import Wire


def wire_at(facts: Facts, conductor: int, source: SupplyLeg, beside: SupplyLeg | None = None) -> str:
    """The wire (`P1.red`) that brings a leg of a supply: of the terminal from which a wire is soldered to a rail's own
    metal and brings it there, or brings the leg `beside` it; else the supply's own."""
    own, turned = facts.metal[conductor], beside is not None and beside.leg != source.leg
    for drop in facts.layout.drops:
        supplies = facts.supply_of_wire.get(drop.wire.name, frozenset())
        soldered = facts.metal[facts.wiring.metal(drop.piece, drop.metal)]
        if drop.when is None and soldered == own and supplies == frozenset({source.supply}):
            return _typed(facts, drop.wire._replace(leg=drop.wire.leg ^ turned))
    owner, _, leg = facts.leg(source).rpartition(".")
    return f"{owner.rpartition('.')[2]}.{leg}"


def _typed(facts: Facts, wire: Wire) -> str:
    """A wire as its own module's file calls it."""
    return f"{wire.name.rpartition('.')[2]}.{facts.layout.legs_of(wire.name)[wire.leg]}"
