"""All that is worked out of a plan's wires and rails as resistors, each when first asked for."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from functools import cached_property

from railbond.circuit.effort import spend
from railbond.circuit.proof import Proof
from railbond.circuit.wiring import Wiring
from railbond.layout.limits import limit
from railbond.layout.model import Piece
from trackplan.typed import TYPE_CHECKING

from .since import SinceBefore, are_turned, changed
from .told import NetworkSize, ToldNetwork
from .wires import NO_CHANGES, Changes, Statement

if TYPE_CHECKING:  # loaded only where something is worked out
    from .field import Frame
    from .islands import Islands
    from .network import Network, Resistor
    from .region import Regions
    from .spacing import Neighbors
    from .spots import Spot
    from .thin import ThinWire

RESISTORS = 8
"""Resistors that are laid in a step of effort."""
RESIZED = 16
"""Nodes of a network of which only wires' sizes are changed, in a step of effort."""
SPOTS = 4
"""Nodes of a network that is searched for its worst spots, in a step of effort."""


def _exceeds(bounds: Mapping[str, float], limits: Mapping[str, float]) -> bool:
    return any(bounds.get(name, 0.0) > ohms for name, ohms in limits.items())


class SolvedNetwork(ToldNetwork):
    """The network of a plan, solved.

    What the plan does not tell enough of is not worked out: `unknown` are the supplies with such wires.
    """

    def __init__(
        self,
        wiring: Wiring,
        proof: Proof,
        changes: Changes = NO_CHANGES,
        pieces: Sequence[Piece] | None = None,
        before: SolvedNetwork | None = None,
        beside: SolvedNetwork | None = None,
    ) -> None:
        """`pieces` are those whose spots are worked out: all, unless said. `before` is that of a plan that differs in
        lengths, places and sizes alone, `beside` that of one in which wires may also go the other way round, or
        elsewhere."""
        super().__init__(wiring, proof, changes)
        self.before, self.beside = before, beside or before
        self.beyond = NetworkSize()
        """What the network of the whole plan has besides, where this is one of a part."""
        self.homes: dict[str, SolvedNetwork] = {}
        """The networks in which the spots of pieces were found, where not in this one."""
        self.is_counted = False
        """Whether its effort was counted with that of the whole plan."""
        self.pieces = list(wiring.layout.pieces.values()) if pieces is None else pieces
        self._laid: Network | None = None
        """A network that differs from this plan's in the sizes of wires alone."""

    def changed(self, changes: Changes, supply: str) -> SolvedNetwork:
        """The same plan with wires changed in the head, or added between what they join already: for what that does to
        one supply, which feeds the same pieces then."""
        own = dict.fromkeys(spot.piece for spot in self.spots_of.get(supply, ()))
        new = SolvedNetwork(self.wiring, self.proof, changes, [self.layout.pieces[name] for name in own])
        new.beyond = self.beyond
        if changes.drops == self.changes.drops:
            new._laid = self.network
        return new

    @cached_property
    def regions(self) -> Regions:
        from .region import Regions

        return Regions(self.wiring)

    @cached_property
    def size(self) -> NetworkSize:
        """That of the network of the whole plan."""
        own = NetworkSize(len(self.network.resistors), self.network.size, len(self.layout.pieces))
        return own.more(self.beyond)

    def home(self, spot: Spot) -> SolvedNetwork:
        """The network in which a spot was found."""
        return self.homes.get(spot.piece, self)

    @cached_property
    def network(self) -> Network:
        if self._laid is not None:
            spend((self._laid.size + self.beyond.nodes) / RESIZED)
            return self._laid.resized(self.layout, self.changes.sizes)
        from .lay import lay

        network = lay(self.wiring, self.changes)
        if not self.is_counted:
            spend((len(network.resistors) + self.beyond.resistors) / RESISTORS)
        return network

    @cached_property
    def frame(self) -> Frame:
        from .field import Frame

        return Frame(self.network, self.unknown, not (self.is_counted or any(self.beyond)))

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

        if not self.is_counted:
            spend(self.size.nodes / SPOTS * len(self.pieces) / max(self.size.pieces, 1))
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
        from .spacing import around, doubtful

        asked = self.wiring, self.materials, limit(self.layout, "feeder-spacing") or 0.0, self.met
        since = changed(self.beside.layout, self.layout) if self.beside else None
        if since is None or self.beside is None:
            return doubtful(*asked)
        near = around(self.met, [*since.pieces, *(drop.piece for drop, _ in since.drops)])
        found = {piece.name for piece in self.beside.far_apart if piece.name not in near}
        found |= {piece.name for piece in doubtful(*asked, near)}
        return [piece for piece in self.wiring.pieces if piece.name in found]

    @cached_property
    def met(self) -> Neighbors:
        """For each piece the names of those that it meets: of the same track as before, those that it met then."""
        from .spacing import neighbors

        is_same = self.beside is not None and self.beside.layout.meetings is self.layout.meetings
        return self.beside.met if self.beside and is_same else neighbors(self.wiring)

    @cached_property
    def thin(self) -> list[ThinWire]:
        """The wires that carry less than their breaker lets through."""
        from .thin import may_be_thin, thin_wires

        if not may_be_thin(self.layout, self.sized):
            return []
        known = self.changed_wires if self.before is not None and not self.before.thin else None
        return list(thin_wires(self.layout, self.guards, self.supplies_by_wire if known is None else known))

    @cached_property
    def changed_since(self) -> SinceBefore | None:
        """What is other than in the network before; None where nothing is known of one."""
        return changed(self.before.layout, self.layout) if self.before else None

    @cached_property
    def bounds(self) -> dict[str, float] | None:
        """Ohms for each supply that no place's loop exceeds, found without solving; None where none are at hand."""
        if self.unknown:
            return None
        from .bound import bounds

        return bounds(self.wiring, self.proof, self.materials)

    @cached_property
    def loose_bounds(self) -> dict[str, float] | None:
        """The same, or somewhat more where they need not be worked out anew: by what has changed, each leg's place gets
        no more ohms than all of that together. Where wires were turned round, it may be another leg's."""
        before = self.before or self.beside
        since = changed(before.layout, self.layout) if before else None
        known = before.loose_bounds if before else None
        if before is None or since is None or known is None or self.unknown:
            return self.bounds
        if before is not self.before and not are_turned(since, before.layout, self.layout):
            return self.bounds
        from .bound import rise

        more = rise(since, before.wiring, self.wiring, self.materials)
        if before is self.before:
            return {name: ohms + 2 * more for name, ohms in known.items()}
        return dict.fromkeys(self.layout.supplies, 2 * (max(known.values(), default=0.0) + more))

    def may_exceed(self, limits: Mapping[str, float]) -> bool:
        """Whether some supply may have a place with more ohms than its limit, as far as can be told without solving."""
        if self.unknown.issuperset(limits):
            return False
        if self.loose_bounds is not None and not _exceeds(self.loose_bounds, limits):
            return False
        self.loose_bounds = self.bounds
        return self.bounds is None or _exceeds(self.bounds, limits)

    @cached_property
    def worst(self) -> dict[str, Spot]:
        """The worst spot of each supply."""
        found: dict[str, Spot] = {}
        for spot in self.spots:
            if spot.supply not in found or spot.ohms > found[spot.supply].ohms:
                found[spot.supply] = spot
        return found

    @cached_property
    def changed_wires(self) -> dict[Statement, frozenset[str]] | None:
        """The same of those that are other than before."""
        since = self.changed_since
        return since and self._behind([run for _, run in since.runs], [drop for _, drop in since.drops])
