"""By which name a plan would have a wire that carries a leg of a supply, near a rail."""

from __future__ import annotations

from collections.abc import Iterator

from railbond.circuit.facts import Facts
from railbond.circuit.graph import SupplyLeg
from railbond.layout.model import Wire

from .wires_nearby import parts_of, wires_outwards


def wire_at(facts: Facts, conductor: int, source: SupplyLeg, beside: SupplyLeg | None = None) -> str:
    """The wire (`P1.red`) that brings a leg of a supply: of the terminal from which a wire is soldered to a rail's own
    metal and brings it there, or brings the leg `beside` it; else of one that feeds a frog of the same piece, or the
    nearest along the track; else the supply's own."""
    own, turned = facts.metal[conductor], beside is not None and beside.leg != source.leg
    for drop in facts.layout.drops:
        supplies = facts.supply_of_wire.get(drop.wire.name, frozenset())
        soldered = facts.metal[facts.wiring.metal(drop.piece, drop.metal)]
        if drop.when is None and soldered == own and supplies == frozenset({source.supply}):
            return _typed(facts, drop.wire._replace(leg=drop.wire.leg ^ turned))
    for name in _terminals_near(facts, conductor):
        own_legs = (0, 1) if facts.supply_of_wire.get(name) == frozenset({source.supply}) else ()
        for wire in (Wire(name, number) for number in own_legs):
            if {way.source for way in facts.proof.reachable(facts.wiring.wire(wire))} == {source}:
                return _typed(facts, wire)
    owner, _, leg = facts.leg(source).rpartition(".")
    return f"{owner.rpartition('.')[2]}.{leg}"


def _terminals_near(facts: Facts, conductor: int) -> Iterator[str]:
    """The terminals that other frogs of a rail's piece hang on, then those around it."""
    piece = facts.piece_of(conductor)
    feeds = [one for one in facts.layout.frogs.values() if one.piece == piece]
    hung = [name for feed in feeds for name in (feed.supply, *(wire.name for wire in feed.contacts.values())) if name]
    around = wires_outwards(facts, parts_of(facts, [conductor])) if piece else iter(())
    yield from (name for name in (*hung, *around) if name in facts.layout.terminals)


def _typed(facts: Facts, wire: Wire) -> str:
    """A wire as its own module's file calls it."""
    return f"{wire.name.rpartition('.')[2]}.{facts.layout.legs_of(wire.name)[wire.leg]}"
