"""Whether there are volts on the track when a train comes to it, by the way on which it comes.

There are *volts* on a pair of rails where they carry opposite legs of one supply.
"""

from __future__ import annotations

from functools import cached_property

from trackplan.typed import TYPE_CHECKING

from .across import ALWAYS, Needs, across, together
from .graph import Setting, SupplyLeg, agree
from .keeping import once
from .proof import Proof
from .questions import avoiding
from .track_pairs import Pair, Place, pairs, pairs_of
from .wiring import Wiring

if TYPE_CHECKING:
    from .facts import Facts
    from .plain_track import Gate, PlainStretch


@once
def track_volts(facts: Facts) -> TrackVolts:
    """What can be said of the volts on a plan's track."""
    return TrackVolts(facts.wiring, facts.proof)


class TrackVolts:
    """What can be said of the volts on pairs of rails."""

    def __init__(self, wiring: Wiring, proof: Proof) -> None:
        self.wiring = wiring
        self.proof = proof

    def settings(self, pair: Pair) -> list[Setting]:
        """The least settings in which there are volts on a pair. An automatic unit gives whatever is wanted, and so
        does a reverser against other supply, as between two gaps that do not lie opposite each other."""
        return list(filter(agree, together(self.proof, *pair, _opposite)))

    def ever(self, pair: Pair, needs: Needs = ()) -> Setting | None:
        """The least setting, with the switches as `needs` asks, in which there are volts on a pair."""
        return across(self.proof, *pair, _opposite, needs)

    def is_fed(self, pair: Pair) -> bool:
        """Whether a wire reaches each of the two rails in some setting."""
        return all(self.proof.reachable(rail) for rail in pair)

    @cached_property
    def never(self) -> list[Place]:
        """The pairs of which a wire reaches both rails, and on which there are volts in no setting."""
        return [one for one in self.places if self.is_fed(one.pair) and self.ever(one.pair) is None]

    def dead_when_entered(self, stretch: PlainStretch) -> bool:
        """Whether there are volts on a stretch in some setting, but in none in which a train can come onto it."""
        least = set() if stretch.is_open else {self.ever(place.pair) for place in stretch.places}
        if ALWAYS in least or not least - {None}:
            return False
        ways = [asked for gate in stretch.gates for asked in self.ways(gate)]
        pairs = [place.pair for place in stretch.places]
        return bool(ways) and all(self.ever(pair, asked) is None for pair in pairs for asked in ways)

    def ways(self, gate: Gate) -> list[Needs]:
        """How the points stand for each way through a gate on which the track before it can be live."""
        asked = (tuple((switch, (stands,)) for switch, stands in sorted(way)) for way in gate.ways)
        return [one for one in asked if self.ever(gate.outside, one) is not None]

    def stops_at(self, gate: Gate) -> Setting | None:
        """A setting in which a train rolls from live track through a gate onto a pair without volts."""
        if self.ever(gate.inside) in (None, ALWAYS):
            return None
        inside = self.settings(gate.inside)
        asked = (out | way for out in self.settings(gate.outside) for way in gate.ways if agree(out | way))
        return next((found for one in asked if (found := avoiding(self.proof, one, inside)) is not None), None)

    @cached_property
    def places(self) -> list[Place]:
        """Every pair of rails of the plan, once for those that are the same metal."""
        found: dict[Pair, Place] = {}
        component, known = self.proof.component, dict[int, list[Pair]]()
        for piece in self.wiring.pieces:
            first, own = self.wiring.first[piece.name], known.get(id(piece.template))
            if own is None:
                own = known[id(piece.template)] = list(pairs_of(piece.template))
            for left, right in own:
                one, other = component[first + left], component[first + right]
                metal = (one, other) if one < other else (other, one)
                if metal not in found:
                    found[metal] = Place(piece.name, (first + left, first + right))
        return list(found.values())

    @cached_property
    def stretches(self) -> list[PlainStretch]:
        """All plain track, by the names of its pieces."""
        from .plain_track import stretches

        return stretches(self.wiring)

    @cached_property
    def doubtful(self) -> list[PlainStretch]:
        """Those that have volts at some place, or before it on a table, in some settings only. To walk all track takes
        long, and most has them always."""
        coming = {self._lumps(one.pair) for one in self.places if self.ever(one.pair) not in (None, ALWAYS)}
        if not coming:
            return []
        from .plain_track import stretches

        lumps = ((piece, map(self._lumps, pairs(self.wiring, piece))) for piece in self.wiring.pieces)
        return stretches(self.wiring, [piece for piece, own in lumps if not coming.isdisjoint(own)])

    def _lumps(self, pair: Pair) -> frozenset[int]:
        """What hangs together in every setting with either of two rails."""
        return frozenset((self.proof.component[pair[0]], self.proof.component[pair[1]]))


def _opposite(one: SupplyLeg, other: SupplyLeg) -> bool:
    floats = "reverser" in (one.kind, other.kind) and one.supply != other.supply
    return floats or one.opposes(other) or "unit" in (one.kind, other.kind)
