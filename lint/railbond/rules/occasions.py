"""When a rule can speak: what must be so in a plan for it to find anything, told from the facts alone.

A rule names its occasion in `when`, so that what it teaches, and the mends that it knows, are loaded only for a plan
that needs them. An occasion may hold where the rule then finds nothing; where it does not, the rule can find nothing.
"""

from __future__ import annotations

import re
from collections.abc import Callable

from railbond.circuit.by_kind import of_kind
from railbond.circuit.odd_lines import soldered_twice, unbonded
from railbond.circuit.questions import against, opposed, touch_may_feed
from railbond.layout.accepted import FORMER_RULES
from railbond.layout.limits import limit
from trackplan.former import FORMER
from trackplan.statements import Accept, District, FrogAutomatic, FrogSwitched, Reverser, Solder
from trackplan.typed import TYPE_CHECKING

if TYPE_CHECKING:
    from railbond.circuit.facts import Facts
    from railbond.circuit.running.answers import Running


_NUMBER = re.compile(r"#\d")


def _reverser(facts: Facts) -> bool:
    return any(supply.kind == "reverser" for supply in facts.layout.supplies.values())


def _breaker_over_booster(facts: Facts) -> bool:
    least = min((float(booster.current) for booster in facts.layout.boosters.values()), default=0.0)
    districts = (one.statement for one in facts.layout.supplies.values())
    return any(isinstance(one, District) and one.trips and one.trips > least for one in districts)


def _own_breaker(facts: Facts) -> bool:
    reversers = (supply.statement for supply in facts.layout.supplies.values())
    units = (feed.statement for feed in facts.layout.frogs.values())
    return any(isinstance(one, Reverser | FrogAutomatic) and one.trips for one in (*reversers, *units))


def _least_breaker(facts: Facts) -> float:
    """Amperes of the breaker or booster that gives up first; nothing where there is none."""
    given = [float(booster.current) for booster in facts.layout.boosters.values()]
    supplies = (supply.statement for supply in facts.layout.supplies.values())
    given += [float(one.trips) for one in supplies if isinstance(one, District) and one.trips]
    return min(given, default=0.0)


def _many_engines(facts: Facts) -> bool:
    return sum(float(engine.current) for engine in facts.layout.engines) > _least_breaker(facts)


def _power_on(facts: Facts) -> bool:
    return (limit(facts.layout, "power-on") or 0.0) * len(facts.layout.engines) > _least_breaker(facts)


def _volts(facts: Facts) -> bool:
    from railbond.circuit.power.track_volts import for_scale

    volts = for_scale(facts.layout.scale)
    boosters = facts.layout.boosters.values()
    return volts is not None and any(not volts.least <= one.voltage <= volts.most for one in boosters)


def _long_bus(facts: Facts) -> bool:
    lengths = (float(run.statement.length) for run in facts.layout.runs if run.statement.length)
    return sum(lengths) > (limit(facts.layout, "long-bus") or 0.0)


def _points_feed_track(facts: Facts) -> bool:
    """Whether some plain track, or a table's bridge, has a rail without a supply of its own in every setting."""
    sources, component = facts.proof.sources, facts.proof.component
    own = {one for one, found in sources.items() if any(source.kind in ("fixed", "analog") for source in found)}
    for piece in facts.layout.pieces.values():
        if piece.template.bridge:
            return True
        first = facts.wiring.first[piece.name]
        if piece.template.is_plain and not own.issuperset(component[first : first + len(piece.template.metals)]):
            return True
    return False


def _unfed_rail(facts: Facts) -> bool:
    return any(rail not in facts.frog_units for rail in facts.proof.dead(facts.graph.rails))


def _unfed_frog(facts: Facts) -> bool:
    return any(frog in facts.frog_units for frog in facts.proof.dead(facts.graph.frogs))


def _fed_by_touch(facts: Facts) -> bool:
    metals = (*facts.graph.rails, *facts.graph.frogs)
    return touch_may_feed(facts.proof) and any(map(facts.proof.reachable, facts.untouched.dead(metals)))


def _open_point(facts: Facts) -> bool:
    asked = ((blade, blade.when) for blade in facts.graph.blades)
    return any(opposed(facts.proof, one.closure, one.stock, ((s, (at,)),)) is not None for one, (s, at) in asked)


def _against_a_train(facts: Facts) -> bool:
    """Whether a wheel rolls from one polarity onto the other at a frog, or at a joint or gap, while points stand
    against its train; or onto a reverser's, of which two rails may ask for different ones."""
    component, frogs = facts.proof.component, facts.graph.frogs
    needing = [one for one in facts.graph.rolls if one.needs and component[one.one] != component[one.other]]
    if any(one.meeting is not None for one in needing) and _reverser(facts):
        return True
    rolls = (one for one in needing if one.meeting is not None or one.one in frogs)
    return any(against(facts.proof, one) is not None for one in rolls)


def _backwards(facts: Facts) -> bool:
    switched = (one for one in facts.layout.frogs.values() if isinstance(one.statement, FrogSwitched))
    if all(len(feed.contacts) != 2 for feed in switched):
        return False
    from railbond.circuit.backwards import backwards

    return any(True for _ in backwards(facts))


def _without_volts(facts: Facts) -> bool:
    if facts.shorts:
        return False
    from railbond.circuit.entering import track_volts

    return bool(track_volts(facts).never)


def _unproven(facts: Facts) -> bool:
    return [*map(facts.proof.reachable_of, facts.proof.components())] != [] and bool(facts.proof.unproven)


def _other_leg_at_edge(facts: Facts) -> bool:
    edges = ((edge, edge.end) for edge in facts.layout.edges.values() if edge.left is not None)
    ways = ((edge, facts.proof.reachable(facts.wiring.rail(end, "left"))) for edge, end in edges if end)
    return any(way.source.leg != edge.left for edge, found in ways for way in found)


def _running(facts: Facts) -> Running | None:
    if not facts.layout.engines:
        return None
    from railbond.circuit.running.answers import running

    return running(facts)


def _engine_stalls(facts: Facts) -> bool:
    run = _running(facts)
    return run is not None and bool(run.stalls or run.track.cut_short)


def _engine_on_one_wheel(facts: Facts) -> bool:
    run = _running(facts)
    lone = (one for one in run.engines if min(len(one.firm_left), len(one.firm_right)) < 2) if run else ()
    return run is not None and bool(run.single_wheels or any(True for _ in lone))


def _told_bridge(facts: Facts) -> bool:
    run = _running(facts)
    if run is None or not any(size.told for size in run.track.sizes.values()):
        return False
    return any(one.size.told for one in run.bridges)


def _far_from_a_feeder(facts: Facts) -> bool:
    return bool(facts.power.far_apart)


def _trips_too_late(facts: Facts) -> bool:
    return facts.power.may_exceed({name: guard.most_ohms(facts.layout) for name, guard in facts.power.guards.items()})


def _loses_volts(facts: Facts) -> bool:
    share, power = limit(facts.layout, "voltage-drop") or 0.0, facts.power
    loads = ((name, guard, power.running(name)) for name, guard in power.guards.items())
    most = {name: share * guard.volts / load for name, guard, load in loads if load}
    return bool(most) and power.may_exceed(most)


def _thin_wire(facts: Facts) -> bool:
    return bool(facts.power.thin)


def _older_word(facts: Facts) -> bool:
    old = any(word in source.typed for source in facts.sources.values() for word in FORMER)
    told: list[Accept | Solder] = of_kind(facts, Accept, Solder)
    return old or any(isinstance(one, Solder) or one.rule in FORMER_RULES for one in told)


def _unused_supply(facts: Facts) -> bool:
    from railbond.circuit.unused import boosters_unused, unused

    return bool(unused(facts) or boosters_unused(facts))


OCCASIONS: dict[str, Callable[[Facts], bool]] = {
    "a turnout lacks its bond": lambda facts: any(True for _ in unbonded(facts)),
    "a place is told twice": lambda facts: bool(soldered_twice(facts)),
    "a line is broken": lambda facts: bool(facts.broken),
    "the layout has faults": lambda facts: bool(facts.layout.faults),
    "something is accepted": lambda facts: bool(facts.layout.acceptances),
    "a word may have a newer one": _older_word,
    "a comment is a number": lambda facts: any(map(_NUMBER.search, (one.typed for one in facts.sources.values()))),
    "wires lack a size": lambda facts: bool(facts.power.sized.unknown),
    "there is an analog cab": lambda facts: any(one.kind == "analog" for one in facts.graph.sources.values()),
    "there is a reverser": _reverser,
    "there is a common rail": lambda facts: bool(facts.layout.commons),
    "several supplies": lambda facts: len({s.supply for s in facts.graph.sources.values() if s.kind != "unit"}) > 1,
    "legs meet": lambda facts: bool(facts.shorts),
    "legs meet or are opposed": lambda facts: bool(facts.shorts or facts.opposed),
    "legs are opposed": lambda facts: bool(facts.opposed),
    "supplies mingle": lambda facts: bool(facts.minglings),
    "systems meet": lambda facts: bool(facts.aliens),
    "track turns": lambda facts: bool(facts.turning.forest.odd),
    "track without volts": _without_volts,
    "the other leg at an edge": _other_leg_at_edge,
    "contacts are the wrong way round": _backwards,
    "an open point is opposed": _open_point,
    "points may stand against a train": _against_a_train,
    "a rail is unfed": _unfed_rail,
    "a frog is unfed": _unfed_frog,
    "metal is fed by touch": _fed_by_touch,
    "points feed track": _points_feed_track,
    "an island is unproven": _unproven,
    "an engine stalls": _engine_stalls,
    "an engine on one wheel": _engine_on_one_wheel,
    "a frog's length is told": _told_bridge,
    "a breaker above its booster": _breaker_over_booster,
    "a breaker of its own": _own_breaker,
    "engines for all a breaker gives": _many_engines,
    "decoders for all a breaker gives": _power_on,
    "volts outside of the standard": _volts,
    "a short may draw too little": _trips_too_late,
    "volts are lost": _loses_volts,
    "a wire is too thin": _thin_wire,
    "rail far from a feeder": _far_from_a_feeder,
    "long buses": _long_bus,
    "a supply is unused": _unused_supply,
}
"""By name. A rule without one is loaded and asked of every plan."""


def arises(when: str, facts: Facts) -> bool:
    """Whether a rule of that occasion can find anything."""
    return OCCASIONS[when](facts)
