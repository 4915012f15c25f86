"""By which name a plan would have a wire that carries a leg of a supply, near a rail."""

from __future__ import annotations

from railbond.circuit.facts import Facts
from railbond.circuit.graph import SupplyLeg
from railbond.layout.model import Wire


def wire_at(facts: Facts, conductor: int, source: SupplyLeg) -> str:
    """The wire (`P1.red`) that is soldered to a rail's own metal and brings that leg there; else the supply's own."""
    own = facts.always.component[conductor]
    for drop in facts.layout.drops:
        supplies = facts.supply_of_wire.get(drop.wire.name, frozenset())
        soldered = facts.always.component[facts.wiring.metal(drop.piece, drop.metal)]
        if drop.when is None and soldered == own and supplies == frozenset({source.supply}):
            return _typed(facts, drop.wire)
    return facts.leg(source).rpartition(".")[0].rpartition(".")[2] + "." + facts.leg(source).rpartition(".")[2]


def _typed(facts: Facts, wire: Wire) -> str:
    """A wire as its own module's file calls it."""
    legs = facts.layout.supplies[wire.name].legs if wire.name in facts.layout.supplies else ()
    return f"{wire.name.rpartition('.')[2]}.{(legs or facts.layout.terminals[wire.name])[wire.leg]}"
