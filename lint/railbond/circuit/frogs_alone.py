"""Frogs that stand alone: of one metal with nothing but their own frog rails."""

from __future__ import annotations

from collections.abc import Sequence

from .wiring import Wiring


def frogs_alone(wiring: Wiring, component: Sequence[int]) -> dict[int, str]:
    """The conductors of such frogs and of their frog rails, each with its turnout; what is one metal has one
    component."""
    wanted = {component[frog] for frog in wiring.graph.frogs}
    components: dict[int, list[int]] = {one: [] for one in wanted}
    for conductor, number in enumerate(component):
        if number in wanted:
            components[number].append(conductor)
    units: dict[int, str] = {}
    for frog, name in wiring.graph.frogs.items():
        unit, first = components[component[frog]], wiring.first[name]
        frogs = wiring.layout.pieces[name].template.frogs
        if len(unit) <= sum(1 + len(one.rails) for one in frogs):
            own = {first + rail for one in frogs for rail in (one.metal, *one.rails.values())}
            if own.issuperset(unit):
                units |= dict.fromkeys(unit, name)
    return units
