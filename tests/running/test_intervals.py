"""Intervals against plain sets of whole cells."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from railbond.circuit.running.intervals import (
    Interval,
    Intervals,
    common,
    in_all,
    in_all_but_one,
    moved,
    united,
    without,
)

PAIRS = st.lists(st.tuples(st.integers(0, 40), st.integers(0, 40)), max_size=8)


def cells(intervals: Intervals) -> set[int]:
    return {cell for start, stop in intervals for cell in range(max(start, -100), min(stop, 100))}


@given(PAIRS)
def test_united_covers_what_its_parts_do_in_order_and_apart(pairs: list[tuple[int, int]]) -> None:
    found = united(pairs)
    assert cells(found) == {cell for start, stop in pairs for cell in range(start, stop)}
    assert all(one.stop < other.start for one, other in zip(found, found[1:], strict=False))


@given(PAIRS, PAIRS)
def test_common_and_without(one: list[tuple[int, int]], other: list[tuple[int, int]]) -> None:
    first, second = united(one), united(other)
    assert cells(common(first, second)) == cells(first) & cells(second)
    assert cells(without(first, second)) == cells(first) - cells(second)


@given(st.lists(PAIRS, min_size=1, max_size=5), st.integers(-20, 20))
def test_in_all_in_all_but_one_and_moved(sets: list[list[tuple[int, int]]], by: int) -> None:
    made = [united(one) for one in sets]
    inside = {cell: sum(cell in cells(one) for one in made) for cell in range(41)}
    assert cells(in_all(made)) & set(inside) == {cell for cell, times in inside.items() if times == len(made)}
    assert cells(in_all_but_one(made)) & set(inside) == {
        cell for cell, times in inside.items() if times >= len(made) - 1
    }
    assert cells(moved(made[0], by)) == {cell + by for cell in cells(made[0])}


def test_intervals_that_meet_are_one_and_empty_ones_are_none() -> None:
    assert united([(5, 9), (0, 5), (12, 12)]) == (Interval(0, 9),)
