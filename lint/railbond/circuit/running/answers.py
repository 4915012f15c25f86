"""All that a rule may ask about the plan's engines on its track, each worked out when first asked for."""

from __future__ import annotations

from collections.abc import Iterable
from functools import cached_property, lru_cache

from railbond.circuit.facts import Facts
from railbond.layout.limits import limit
from trackplan.typed import TYPE_CHECKING

from . import micrometers
from .live_rails import LiveRails
from .pickups import Pickups, pickups
from .stalling import LONE_WHEELS, STALLS, Ground, StallAt
from .walking import WalkedTrack

if TYPE_CHECKING:
    from .bridges import Bridge
    from .reversing import Sections
    from .standards import Wheel

Cause = frozenset[str]
"""The pieces whose dead metal is to blame."""


@lru_cache(maxsize=4)
def running(facts: Facts) -> Running:
    """The answers for a plan's facts; rules that ask one after the other share them."""
    return Running(facts)


class Running:
    """The engines, the track they roll over and where they come to grief."""

    def __init__(self, facts: Facts) -> None:
        self.facts = facts

    @cached_property
    def engines(self) -> list[Pickups]:
        return pickups(self.facts.layout)

    @cached_property
    def track(self) -> WalkedTrack:
        return WalkedTrack(self.facts.wiring)

    @cached_property
    def ground(self) -> Ground:
        return Ground(self.facts.wiring, self.track, LiveRails(self.facts.proof, self._told() | self._switched_off()))

    def _told(self) -> set[int]:
        return {conductor for conductor, piece in enumerate(self.facts.owners) if piece in self.facts.live}

    def _switched_off(self) -> set[int]:
        """What contacts in a feeder leave without power: meant to be dead while they are open."""
        component, metal = self.facts.proof.component, self.facts.wiring.metal
        components = {component[metal(drop.piece, drop.metal)] for drop in self.facts.layout.drops if drop.when}
        return {conductor for conductor, own in enumerate(component) if own in components}

    @cached_property
    def stalls(self) -> dict[Cause, dict[str, StallAt]]:
        """For each cause the engines that stall on it, each at its longest; a cause that is part of another is the
        one that is told."""
        found = self.ground.troubles(self.engines, STALLS)
        return _least(_longest(one for one in found if one.length > one.engine.coast))

    @cached_property
    def sections(self) -> dict[str, Sections]:
        """The sections of each reverser."""
        from .reversing import Sections

        supplies = self.facts.layout.supplies.values()
        names = [one.name for one in supplies if one.kind == "reverser"]
        alone = frozenset(self.facts.lone_frogs)
        return {name: Sections(name, self.facts.wiring, self.facts.proof, self.track, alone) for name in names}

    @cached_property
    def wheel(self) -> Wheel:
        """The widest wheel that runs here, as far as is known."""
        from .standards import wheel_of

        return wheel_of(limit(self.facts.layout, "wheel-code"), self.facts.layout.scale)

    @cached_property
    def bridges(self) -> list[Bridge]:
        """Turnouts whose frog rails, of different phases, that wheel touches at once."""
        from .bridges import bridges

        return list(bridges(self.facts.wiring, self.facts.proof, self.track, self.wheel))

    @cached_property
    def single_wheels(self) -> dict[str, StallAt]:
        """For each engine the longest stretch on which a side hangs on one wheel, where that is beyond the limit and
        the engine does not stall there anyway."""
        least = micrometers(limit(self.facts.layout, "single-wheel") or 0.0)
        worst: dict[str, StallAt] = {}
        for one in self.ground.troubles(self.engines, LONE_WHEELS):
            name = one.engine.name
            longer = one.length > max(least, worst[name].length if name in worst else 0)
            if longer and not any(name in by_name and cause & one.dead for cause, by_name in self.stalls.items()):
                worst[name] = one
        return worst


def _longest(troubles: Iterable[StallAt]) -> dict[Cause, dict[str, StallAt]]:
    found: dict[Cause, dict[str, StallAt]] = {}
    for one in troubles:
        by_name = found.setdefault(one.dead, {})
        if one.engine.name not in by_name or by_name[one.engine.name].length < one.length:
            by_name[one.engine.name] = one
    return found


def _least(stalls: dict[Cause, dict[str, StallAt]]) -> dict[Cause, dict[str, StallAt]]:
    """Without the engines that stall on a part of the cause already."""
    left = {
        cause: {name: one for name, one in by_name.items() if not _told_smaller(stalls, cause, name)}
        for cause, by_name in stalls.items()
    }
    return {cause: by_name for cause, by_name in left.items() if by_name}


def _told_smaller(stalls: dict[Cause, dict[str, StallAt]], cause: Cause, name: str) -> bool:
    return any(other < cause and name in by_name for other, by_name in stalls.items())
