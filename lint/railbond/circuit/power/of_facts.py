"""The network of a plan's facts: made anew, or told from what is known of the plan before."""

from __future__ import annotations

from railbond.circuit.of_graph import known_before, made_of, rewired_before
from trackplan.typed import Any

from .solved import SolvedNetwork


def network_of(facts: Any) -> SolvedNetwork:
    """Of a plan that was changed in the head it is told region by region, if that before was solved; of one that was
    typed at by what differs."""
    if (earlier := made_of(facts, "power")) and "spots" in vars(earlier):
        from .by_region import RevisedNetwork

        return RevisedNetwork(facts.wiring, facts.proof, earlier)
    known, like = known_before(facts, "power"), rewired_before(facts, "power")
    return SolvedNetwork(facts.wiring, facts.proof, before=known, beside=like)
