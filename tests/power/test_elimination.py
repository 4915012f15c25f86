"""Node by node against a whole matrix inverted by NumPy."""

from __future__ import annotations

from random import Random

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from railbond.circuit.power.elimination import Elimination, Link


def network(rng: Random, size: int) -> tuple[list[Link], dict[int, float]]:
    """A tree with some rings, all of it tied to ground somewhere; conductances over seven powers of ten."""
    siemens = lambda: 10 ** rng.uniform(-3, 4)  # noqa: E731
    links = [(node, rng.randrange(node), siemens()) for node in range(1, size)]
    links += [(rng.randrange(size), rng.randrange(size), siemens()) for _ in range(rng.randint(0, size))]
    return links, {rng.randrange(size): siemens() for _ in range(rng.randint(1, 3))}


def inverse(size: int, links: list[Link], leaks: dict[int, float]) -> np.ndarray:
    matrix = np.diag([leaks.get(node, 0.0) for node in range(size)])
    for one, other, siemens in links:
        if one != other:
            matrix[[one, other], [one, other]] += siemens
            matrix[[one, other], [other, one]] -= siemens
    return np.linalg.inv(matrix)


@given(st.randoms(use_true_random=False), st.integers(1, 40))
def test_all_resistances(rng: Random, size: int) -> None:
    links, leaks = network(rng, size)
    solved, expected = Elimination(size, links, leaks), inverse(size, links, leaks)
    assert solved.own == pytest.approx(list(np.diag(expected)), rel=1e-6)
    for one, other, _ in links:
        assert solved.transfer(one, other) == pytest.approx(expected[one, other], rel=1e-6)
    one, other = rng.randrange(size), rng.randrange(size)
    assert solved.transfer(one, other) == pytest.approx(expected[one, other], rel=1e-6)
    drawn = {one: 1.5, other: 0.25} if one != other else {one: 1.75}
    volts = 1.5 * expected[one] + 0.25 * expected[other]
    assert solved.voltages(drawn) == pytest.approx(list(volts), rel=1e-6)


def test_a_chain_adds_up_without_losing_digits() -> None:
    """A thousand ohms in a row before a thousandth of one: the difference of two large sums would lose it."""
    links = [(node, node + 1, 1.0) for node in range(999)] + [(999, 1000, 1e9)]
    solved = Elimination(1001, links, {0: 1.0})
    assert solved.own[999] == pytest.approx(1000, rel=1e-13)
    assert solved.own[1000] - solved.own[999] == pytest.approx(1e-9, rel=1e-3)


def test_what_reaches_no_ground_is_no_network() -> None:
    with pytest.raises(ZeroDivisionError):
        Elimination(2, [(0, 1, 1.0)], {})


@given(st.randoms(use_true_random=False), st.integers(1, 40))
def test_voltages_asked_in_any_order(rng: Random, size: int) -> None:
    links, leaks = network(rng, size)
    solved, expected = Elimination(size, links, leaks), inverse(size, links, leaks)
    drawn = [{rng.randrange(size): rng.uniform(0.1, 1.0)} for _ in range(2)]
    for amperes in (*drawn, *drawn, drawn[1]):
        ((node, flow),) = amperes.items()
        assert solved.voltages(amperes) == pytest.approx(list(flow * expected[:, node]), rel=1e-6)
