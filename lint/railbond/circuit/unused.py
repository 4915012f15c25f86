"""Supplies that no wire leaves."""

from __future__ import annotations

from collections import Counter

from railbond.layout.model import FrogFeed, Run, Supply
from railbond.layout.terminals import WHAT
from trackplan.statements import Booster, District

from .facts import Facts


def unused(facts: Facts) -> list[Supply]:
    """The supplies that feed nothing, by wires of their own, through a toggle, or as another's, unless a run of their
    own ends where no wire begins; none in a plan with track that has no wire yet, or where a wire comes from what
    nothing bears the name of: it may be any of them."""
    layout = facts.layout
    if len(layout.supplies) < 2 or not layout.drops:
        return []
    if any(one.lacks == WHAT for one in layout.faults):
        return []
    if any(rail not in facts.frog_units for rail in facts.proof.dead(facts.graph.rails)):
        return []
    used = frozenset[str]().union(*(facts.supply_of_wire.get(wire, frozenset()) for wire in _wired(facts)))
    parents = frozenset[str]().union(*(one.hangs_on for one in layout.supplies.values()))
    parents -= runs_for_nothing(facts).keys()
    plugs = {run.source for run in layout.runs if run.terminal.endswith(".plug")}
    left = (one for name, one in layout.supplies.items() if one.kind != "plug" and name not in used | parents | plugs)
    return list(left)


def runs_for_nothing(facts: Facts) -> dict[str, Run]:
    """By supply, a run of its own to a terminal from which no wire goes anywhere: nobody puts one up for nothing."""
    on = {run.source for run in facts.layout.runs} | _wired(facts)
    ends = (run for run in facts.layout.runs if run.terminal not in on)
    return {supply: run for run in ends for supply in facts.supply_of_wire.get(run.terminal, ())}


def _wired(facts: Facts) -> set[str]:
    """The supplies and terminals on which a drop or a frog hangs."""
    return {drop.wire.name for drop in facts.layout.drops}.union(*map(wires_of_feed, facts.layout.frogs.values()))


def boosters_unused(facts: Facts) -> list[Booster]:
    """The boosters on which no district is, where two districts or more are on another one."""
    boosters = facts.layout.boosters if len(facts.layout.boosters) > 1 else {}
    on = Counter(one.booster for one in facts.layout.supplies.values() if isinstance(one.statement, District))
    return [one for name, one in boosters.items() if not on[name]] if max(on.values(), default=0) > 1 else []


def wires_of_feed(feed: FrogFeed) -> list[str]:
    """The wires on which a frog hangs."""
    return [wire.name for wire in feed.contacts.values()] + ([feed.supply] if feed.supply else [])
