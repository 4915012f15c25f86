"""Sets of places along a line, as open intervals in order that neither meet nor overlap.

Ends are whole numbers. A wheel that stands exactly where two rails meet touches both, so an end of a dead interval is
not dead, and what is left of no length is nothing.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import accumulate, pairwise

from trackplan.record import NamedTuple


class Interval(NamedTuple):
    start: int
    stop: int

    @property
    def length(self) -> int:
        return self.stop - self.start


Intervals = tuple[Interval, ...]

FAR = Interval(-(10**15), 10**15)
EVERYWHERE: Intervals = (FAR,)


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
    marks = [FAR.start, *(end for interval in other for end in interval), FAR.stop]
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
    """Where at most one of them is not: for each, what those before it and those after it have in common."""
    before = list(accumulate(sets, common, initial=EVERYWHERE))
    after = list(accumulate(reversed(sets), common, initial=EVERYWHERE))[::-1]
    rest = (common(one, other) for one, other in zip(before, after[1:], strict=False))
    return united(interval for one in rest for interval in one)
