"""What was solved before is kept while a plan is typed, and never for another network."""

from __future__ import annotations

import pytest

from railbond.circuit.power.elimination import Elimination, solved

LINE = (3, ((0, 1, 2.0), (1, 2, 4.0)), ((0, 1.0),))
SHORTER = (3, ((0, 1, 2.0), (1, 2, 5.0)), ((0, 1.0),))


def test_a_network_that_is_as_it_was_is_not_solved_again() -> None:
    first = solved({7: LINE, 8: SHORTER})
    again = solved({1: LINE})
    assert again[1] is first[7]
    assert solved({1: LINE, 2: SHORTER})[2] is not first[8], "only the last time's are kept"


def test_one_that_changed_is() -> None:
    solved({7: LINE})
    assert solved({7: SHORTER})[7].own == pytest.approx(Elimination(3, SHORTER[1], {0: 1.0}).own)
    assert solved({7: SHORTER})[7].own[2] == pytest.approx(1 + 1 / 2 + 1 / 5)


def test_a_part_of_a_plan_lets_nothing_go() -> None:
    first = solved({7: LINE, 8: SHORTER})
    solved({1: LINE}, is_whole=False)
    assert solved({2: SHORTER})[2] is first[8]


def test_two_that_are_the_same_are_one() -> None:
    both = solved({1: LINE, 2: (*LINE[:1], tuple(LINE[1]), LINE[2])})
    assert both[1] is both[2]
