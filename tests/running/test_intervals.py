"""Intervals against plain sets of whole cells."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from railbond.circuit.running.intervals import EVERYWHERE, Interval, Intervals, common, overlapping, united, without

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


@given(PAIRS, st.lists(st.integers(-20, 20), min_size=1, max_size=5), st.integers(1, 5))
def test_where_so_many_copies_overlap(pairs: list[tuple[int, int]], shifts: list[int], least: int) -> None:
    made = united(pairs)
    found = overlapping(made, shifts, least)
    copies = [{cell + by for cell in cells(made)} for by in shifts]
    assert cells(found) == {cell for cell in range(-20, 61) if sum(cell in one for one in copies) >= least}
    assert all(one.stop < other.start for one, other in zip(found, found[1:], strict=False))


def test_none_of_no_copies_is_everywhere() -> None:
    assert overlapping((), (), 0) == EVERYWHERE


def test_intervals_that_meet_are_one_and_empty_ones_are_none() -> None:
    assert united([(5, 9), (0, 5), (12, 12)]) == (Interval(0, 9),)
