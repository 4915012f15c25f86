"""Sets of places along a line, as open intervals in order that neither meet nor overlap.

Ends are whole numbers. A wheel that stands exactly where two rails meet touches both, so an end of a dead interval is
not dead, and what is left of no length is nothing.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import pairwise
from typing import NamedTuple


class Interval(NamedTuple):
    start: int
    stop: int

    @property
    def length(self) -> int:
        return self.stop - self.start


Intervals = tuple[Interval, ...]

EVERYWHERE: Intervals = (Interval(-(10**15), 10**15),)


def united(intervals: Iterable[tuple[int, int]]) -> Intervals:
    """The intervals in order, those that meet or overlap made one."""
    merged: list[list[int]] = []
    for start, stop in sorted(intervals):
        if start >= stop:
            continue
        if merged and start <= merged[-1][1]:
            merged[-1][1] = max(merged[-1][1], stop)
        else:
            merged.append([start, stop])
    return tuple(Interval(start, stop) for start, stop in merged)


def common(one: Intervals, other: Intervals) -> Intervals:
    """Where both are: one walk along the two."""
    found = []
    here = there = 0
    while here < len(one) and there < len(other):
        start = max(one[here].start, other[there].start)
        stop = min(one[here].stop, other[there].stop)
        if start < stop:
            found.append(Interval(start, stop))
        if one[here].stop < other[there].stop:
            here += 1
        else:
            there += 1
    return tuple(found)


def without(one: Intervals, other: Intervals) -> Intervals:
    """What is left of `one` where `other` is not."""
    marks = [EVERYWHERE[0].start, *(end for interval in other for end in interval), EVERYWHERE[0].stop]
    return common(one, tuple(Interval(*pair) for pair in list(pairwise(marks))[::2] if pair[0] < pair[1]))


def moved(intervals: Intervals, by: int) -> Intervals:
    """The intervals, further along the line."""
    return tuple(Interval(start + by, stop + by) for start, stop in intervals)


def in_all(sets: Iterable[Intervals]) -> Intervals:
    """Where all of them are; everywhere, if there are none."""
    found = EVERYWHERE
    for one in sets:
        found = common(found, one)
    return found


def in_all_but_one(sets: Sequence[Intervals]) -> Intervals:
    """Where at most one of them is not."""
    rest = (in_all(other for other in range_without(sets, left_out)) for left_out in range(len(sets)))
    return united(interval for one in rest for interval in one)


def range_without(sets: Sequence[Intervals], left_out: int) -> Iterable[Intervals]:
    return (one for place, one in enumerate(sets) if place != left_out)
