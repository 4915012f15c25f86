"""Supplies that no wire leaves."""

from __future__ import annotations

from railbond.layout.model import FrogFeed, Supply
from railbond.layout.terminals import WHAT

from .facts import Facts


def unused(facts: Facts) -> list[Supply]:
    """The supplies that feed nothing, by wires of their own, through a toggle, or as another's; none in a plan with
    track that has no wire yet, or where a wire comes from what nothing bears the name of: it may be any of them."""
    layout = facts.layout
    if len(layout.supplies) < 2 or not layout.drops:
        return []
    if any(one.message.startswith(f"no {WHAT} ") for one in layout.faults):
        return []
    if any(rail not in facts.frog_units for rail in facts.proof.dead(facts.graph.rails)):
        return []
    ends = {drop.wire.name for drop in layout.drops}.union(*map(wires_of_feed, layout.frogs.values()))
    used = frozenset[str]().union(*(facts.supply_of_wire.get(wire, frozenset()) for wire in ends))
    parents = {str(one.district) for one in layout.supplies.values() if one.district != one.name}
    parents = parents.union(*(one.choices for one in layout.supplies.values()))
    plugs = {run.source for run in layout.runs if run.terminal.endswith(".plug")}
    left = (one for name, one in layout.supplies.items() if one.kind != "plug" and name not in used | parents | plugs)
    return list(left)


def wires_of_feed(feed: FrogFeed) -> list[str]:
    """The wires on which a frog hangs."""
    return [wire.name for wire in feed.contacts.values()] + ([feed.supply] if feed.supply else [])
