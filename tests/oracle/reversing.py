"""Does some loop bring a train back onto its own opposite? Two ways, neither of them clever.

Pieces of track are nodes of a signed graph, meetings its edges, negative where two looking directions
disagree. Harary (1953): such a graph is balanced, every cycle having an even number of negative edges,
exactly when its nodes split in two with every negative edge between the parts and every positive one within;
which is to say that the graph with a node put on every positive edge is bipartite.
"""

from __future__ import annotations

from collections.abc import Iterable

import networkx as nx

from .brute import Brute
from .rails import Conductor, Meeting, Source


def left_over(brute: Brute) -> list[Meeting]:
    """The meetings without those where both rails are gapped between a reverser's supply and a fixed one, or the one
    rail here and the other at the far end of a piece."""
    apart = gapped_apart(brute)
    return [one for one in brute.model.meetings if not (one.gapped and guarded(brute, one)) and one not in apart]


def gapped_apart(brute: Brute) -> list[Meeting]:
    """The meetings at two ends of track of which one rail is a reverser's and the other a fixed supply's, where beyond
    the one both are the reverser's, and beyond the other both fixed."""
    kind = {"reverser": 0, "fixed": 1}

    def held(rails: Iterable[Conductor]) -> list[int]:
        every = [kinds(brute, [rail]) for rail in rails]
        return sorted(kind[next(iter(own))] if len(own) == 1 else 2 for own in every)

    found: list[Meeting] = []
    for one in brute.model.meetings:
        for node, near, far in ((one.one, one.rails_one, one.rails_other), (one.other, one.rails_other, one.rails_one)):
            ends = [two for two in brute.model.meetings if two is not one and node in (two.one, two.other)]
            beyond = [held(two.rails_other if two.one == node else two.rails_one) for two in ends]
            mixed = [held(two.rails_one if two.one == node else two.rails_other) for two in ends]
            wanted = [1, 1] if held(far) == [0, 0] else [0, 0] if held(far) == [1, 1] else None
            if held(near) == [0, 1] and any(b == wanted and m == [0, 1] for b, m in zip(beyond, mixed, strict=True)):
                found.append(one)
    return found


def guarded(brute: Brute, meeting: Meeting) -> bool:
    one, other = kinds(brute, meeting.rails_one), kinds(brute, meeting.rails_other)
    return {frozenset(one), frozenset(other)} == {frozenset({"reverser"}), frozenset({"fixed"})}


def kinds(brute: Brute, rails: Iterable[Conductor]) -> set[str]:
    held: Iterable[Source] = brute.supplies(rails)
    return {source.kind for source in held if source.kind != "frog unit"}


def kinds_of(held: Iterable[Source], reversers: set[str]) -> frozenset[str]:
    """The kinds of sources, frog units apart; of the reversers only some count as such."""
    known = (source for source in held if source.kind != "frog unit")
    return frozenset("reverser" if source.supply in reversers else "fixed" for source in known)


def reverses_by_cycles(meetings: list[Meeting]) -> bool:
    """Walks every simple cycle of a small graph and counts turns; a piece that meets itself is one too."""
    graph = nx.Graph()
    for nth, one in enumerate(meetings):
        graph.add_edge(("piece", one.one), ("joint", nth), turns=one.turns)
        graph.add_edge(("joint", nth), ("piece", one.other), turns=False)
    if any(one.one == one.other and one.turns for one in meetings):
        return True
    return any(odd(graph, cycle) for cycle in nx.simple_cycles(graph))


def odd(graph: nx.Graph, cycle: list[tuple[str, object]]) -> bool:
    around = zip(cycle, cycle[1:] + cycle[:1], strict=True)
    return sum(graph.edges[a, b]["turns"] for a, b in around) % 2 == 1


def reverses_by_color(meetings: list[Meeting]) -> bool:
    """Whether the subdivided graph fails to be bipartite."""
    graph = nx.Graph()
    for nth, one in enumerate(meetings):
        if one.turns:
            graph.add_edge(one.one, one.other)
        else:
            nx.add_path(graph, [one.one, nth, one.other])
    return not nx.is_bipartite(graph)


def reverses(brute: Brute) -> bool:
    """The answer, which both ways must share."""
    return reverses_by_color(left_over(brute))
