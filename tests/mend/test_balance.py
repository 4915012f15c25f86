"""The fewest chains to take out of a signed graph, held against trying every set of them."""

from __future__ import annotations

from itertools import combinations

import networkx as nx
import pytest
from hypothesis import given
from hypothesis import strategies as st

from railbond.circuit import balance
from railbond.circuit.balance import Chain, Choice, Ties, blocks, fewest
from railbond.circuit.signed_graph import Part

EDGES = st.lists(st.tuples(st.integers(0, 5), st.integers(0, 5), st.booleans()), max_size=11)
Edges = list[tuple[int, int, bool]]


def node(number: int) -> Part:
    return f"T{number}", 0


def chained(edges: Edges) -> list[Chain]:
    return [Chain((), (), (node(one), node(other)), turns) for one, other, turns in edges]


def is_balanced(edges: Edges) -> bool:
    """By Harary's theorem: with a node put on every + edge the graph is bipartite, and no - edge is a loop."""
    graph = nx.Graph()
    for number, (one, other, turns) in enumerate(edges):
        if turns and one == other:
            return False
        if turns:
            graph.add_edge(one, other)
        elif one != other:
            nx.add_path(graph, [one, ("on", number), other])
    return nx.is_bipartite(graph)


def smallest(edges: Edges) -> int:
    """How many edges must go, by trying every set of them."""
    for size in range(len(edges) + 1):
        for gone in combinations(range(len(edges)), size):
            if is_balanced([edge for number, edge in enumerate(edges) if number not in gone]):
                return size
    raise AssertionError("no edge at all is balanced")


def chosen(edges: Edges) -> list[int]:
    """The chains that the tool takes out, each of which may go."""
    found = chained(edges)
    choices = [Choice(frozenset({number}), (number,)) for number in range(len(edges))]
    taken = []
    for block in blocks(found):
        own = [choice for choice in choices if choice.chains & set(block)]
        taken += [number for choice in fewest(found, block, own) for number in choice.chains]
    return taken


@given(EDGES)
def test_as_few_as_can_be(edges: Edges) -> None:
    gone = chosen(edges)
    assert is_balanced([edge for number, edge in enumerate(edges) if number not in gone])
    assert len(gone) == smallest(edges)


@given(EDGES)
def test_the_search_that_ran_out_of_budget_still_cures(edges: Edges) -> None:
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(balance, "BUDGET", 0)
        gone = chosen(edges)
    kept = [edge for number, edge in enumerate(edges) if number not in gone]
    assert is_balanced(kept)
    for one in gone:
        assert not is_balanced([*kept, edges[one]]), "one was taken that need not have been"


@given(EDGES)
def test_an_odd_cycle_is_one(edges: Edges) -> None:
    """It is closed, odd and no longer than need be to be a cycle; there is none exactly where the graph is balanced."""
    found = chained(edges)
    cycle = Ties(found, range(len(edges))).odd_cycle()
    assert bool(cycle) != is_balanced(edges)
    own = [edges[number] for number in cycle]
    assert sum(turns for _, _, turns in own) % 2 == bool(own)
    ends = [end for one, other, _ in own for end in (one, other)]
    assert all(ends.count(end) == 2 for end in ends)
    assert all(set(a[:2]) & set(b[:2]) for a, b in zip(own, own[1:] + own[:1], strict=True))


def test_of_equal_sets_the_cheapest() -> None:
    triangle = [(0, 1, True), (1, 2, False), (2, 0, False)]
    choices = [Choice(frozenset({number}), (cost,)) for number, cost in enumerate((3, 1, 2))]
    assert fewest(chained(triangle), range(3), choices) == [choices[1]]


def test_choices_that_touch_are_not_both_taken() -> None:
    """A turnout set apart lies beside each of its chains: two reversers would meet there."""
    edges = [(0, 0, True), (0, 1, True), (0, 1, False)]
    apart = Choice(frozenset({1, 2}), (0,))
    singles = [Choice(frozenset({number}), (5,)) for number in range(3)]
    found = chained(edges)
    taken = [set(one.chains) for block in blocks(found) for one in fewest(found, block, [apart, *singles])]
    assert taken == [{0}, {1, 2}] or taken == [{1, 2}, {0}]
