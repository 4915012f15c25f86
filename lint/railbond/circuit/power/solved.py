"""All that is worked out of a plan's wires and rails as resistors, each when first asked for."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from functools import cached_property
from typing import TYPE_CHECKING

from railbond.circuit.effort import spend
from railbond.circuit.proof import Proof
from railbond.circuit.wiring import Wiring
from railbond.layout.limits import limit
from railbond.layout.model import Drop, Piece
from trackplan.quantities import Length, WireSize

from .guards import Guard, guards, running_load
from .wires import NO_CHANGES, Changes, Sized, Statement, length_of, size_of, sized

if TYPE_CHECKING:  # loaded only where something is worked out
    from .field import Frame
    from .islands import Islands
    from .materials import Materials
    from .network import Network, Resistor
    from .spots import Spot

RESIZED = 16
"""Nodes of a network of which only wires' sizes are changed, in a step of effort."""
SPOTS = 4
"""Nodes of a network that is searched for its worst spots, in a step of effort."""


class SolvedNetwork:
    """The network of a plan, solved.

    What the plan does not tell enough of is not worked out: `unknown` are the supplies with such wires.
    """

    def __init__(
        self, wiring: Wiring, proof: Proof, changes: Changes = NO_CHANGES, pieces: Sequence[Piece] | None = None
    ) -> None:
        """`pieces` are those whose spots are worked out: all, unless said."""
        self.wiring = wiring
        self.layout = wiring.layout
        self.proof = proof
        self.changes = changes
        self.pieces = list(wiring.layout.pieces.values()) if pieces is None else pieces
        self._laid: Network | None = None
        """A network that differs from this plan's in the sizes of wires alone."""

    def changed(self, changes: Changes, supply: str) -> SolvedNetwork:
        """The same plan with wires changed in the head, or added between what they join already: for what that does to
        one supply, which feeds the same pieces then."""
        own = dict.fromkeys(spot.piece for spot in self.spots_of.get(supply, ()))
        new = SolvedNetwork(self.wiring, self.proof, changes, [self.layout.pieces[name] for name in own])
        if changes.drops == self.changes.drops:
            new._laid = self.network
        return new

    @cached_property
    def sized(self) -> Sized:
        return sized(self.layout)

    @cached_property
    def unknown(self) -> frozenset[str]:
        """Supplies that have a wire whose size or length the plan does not tell."""
        lacking = set(self.sized.unknown)
        names = {run.source for run in self.layout.runs if run.statement in lacking}
        names |= {drop.wire.name for drop in self.layout.drops if drop.statement in lacking}
        return frozenset(supply for name in names for supply in self.supplies_of(name))

    def supplies_of(self, name: str) -> set[str]:
        """The supplies that reach a supply or terminal by wire."""
        base = self.wiring.wires[name]
        return {way.source.supply for leg in (0, 1) for way in self.proof.reachable(base + leg)}

    def network_drops(self) -> list[Drop]:
        """The plan's drops, and those that were added in the head."""
        return [*self.layout.drops, *(drop for drop, _, _ in self.changes.drops)]

    def wire_of(self, wire: Statement) -> tuple[WireSize | None, Length | None]:
        """The size and length of a bus run or feeder, where the plan tells them."""
        return size_of(self.layout, wire), length_of(self.layout, wire)

    @cached_property
    def guards(self) -> dict[str, Guard]:
        return guards(self.layout)

    @cached_property
    def load(self) -> float | None:
        """Amperes that run at one place at the worst, where the plan tells."""
        return running_load(self.layout)

    @cached_property
    def materials(self) -> Materials:
        from .materials import materials

        return materials(self.layout)

    @cached_property
    def network(self) -> Network:
        if self._laid is not None:
            spend(self._laid.size / RESIZED)
            return self._laid.resized(self.layout, self.changes.sizes)
        from .lay import lay

        return lay(self.wiring, self.changes)

    @cached_property
    def frame(self) -> Frame:
        from .field import Frame

        return Frame(self.network, self.unknown)

    @cached_property
    def islands(self) -> Islands:
        from .islands import Islands

        return Islands(self.frame, self.proof)

    @cached_property
    def spots(self) -> list[Spot]:
        """The worst spot of each piece for each supply of which all wires are known."""
        if self.unknown.issuperset(self.layout.supplies):
            return []
        from .spots import spots

        spend(self.network.size / SPOTS * len(self.pieces) / max(len(self.layout.pieces), 1))
        return list(spots(self.frame, self.islands, self.pieces))

    @cached_property
    def spots_of(self) -> dict[str, list[Spot]]:
        """The worst spots of each supply."""
        found: dict[str, list[Spot]] = {}
        for spot in self.spots:
            found.setdefault(spot.supply, []).append(spot)
        return found

    @cached_property
    def resistors_of(self) -> dict[Statement, list[Resistor]]:
        """The resistors of each wire."""
        found: dict[Statement, list[Resistor]] = {}
        for one in self.network.resistors:
            if one.wire is not None:
                found.setdefault(one.wire, []).append(one)
        return found

    @cached_property
    def far_apart(self) -> list[Piece]:
        """The pieces that may have a place further from the nearest wire than the plan wants."""
        from .spacing import doubtful

        return doubtful(self.wiring, self.materials, limit(self.layout, "feeder-spacing") or 0.0)

    @cached_property
    def bounds(self) -> dict[str, float] | None:
        """Ohms for each supply that no place's loop exceeds, found without solving; None where none are at hand."""
        if self.unknown:
            return None
        from .bound import bounds

        return bounds(self.wiring, self.proof, self.materials)

    def may_exceed(self, limits: Mapping[str, float]) -> bool:
        """Whether some supply may have a place with more ohms than its limit, as far as can be told without solving."""
        if self.unknown.issuperset(limits):
            return False
        return self.bounds is None or any(self.bounds.get(name, 0.0) > ohms for name, ohms in limits.items())

    @cached_property
    def worst(self) -> dict[str, Spot]:
        """The worst spot of each supply."""
        found: dict[str, Spot] = {}
        for spot in self.spots:
            if spot.supply not in found or spot.ohms > found[spot.supply].ohms:
                found[spot.supply] = spot
        return found

    def running(self, supply: str) -> float | None:
        """The load that may stand at one place of a supply: no more than its breaker lets through."""
        guard = self.guards.get(supply)
        return None if self.load is None or guard is None else min(self.load, float(guard.passes))

    @cached_property
    def supplies_by_wire(self) -> dict[Statement, frozenset[str]]:
        """The supplies behind each bus run and feeder."""
        wires: list[tuple[Statement, str]] = [(run.statement, run.source) for run in self.layout.runs]
        wires += [(drop.statement, drop.wire.name) for drop in self.layout.drops]
        supplies = {name: frozenset(self.supplies_of(name)) for name in dict.fromkeys(name for _, name in wires)}
        return {wire: supplies[name] for wire, name in wires}
