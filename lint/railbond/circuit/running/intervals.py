"""Sets of places along a line, as open intervals in order that neither meet nor overlap.

Ends are whole numbers. A wheel that stands exactly where two rails meet touches both, so an end of a dead interval is
not dead, and what is left of no length is nothing.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import pairwise

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
    if not one or not other:
        return ()
    found = []
    here = there = 0
    (start, stop), (begin, end) = one[0], other[0]
    while True:
        first = start if start > begin else begin  # quicker than `max`: an engine asks this thousands of times
        last = stop if stop < end else end
        if first < last:
            found.append(Interval(first, last))
        if stop < end:
            here += 1
            if here == len(one):
                return tuple(found)
            start, stop = one[here]
        else:
            there += 1
            if there == len(other):
                return tuple(found)
            begin, end = other[there]


def without(one: Intervals, other: Intervals) -> Intervals:
    """What is left of `one` where `other` is not."""
    marks = [FAR.start, *(end for interval in other for end in interval), FAR.stop]
    return common(one, tuple(Interval(*pair) for pair in list(pairwise(marks))[::2] if pair[0] < pair[1]))


def overlapping(intervals: Intervals, shifts: Sequence[int], least: int) -> Intervals:
    """Where at least so many of several copies of the intervals are, each moved along the line by one of `shifts`."""
    if least <= 0:
        return EVERYWHERE
    ends = [(start + by, 1) for start, _ in intervals for by in shifts]
    ends += [(stop + by, -1) for _, stop in intervals for by in shifts]
    found: list[Interval] = []
    deep = begin = 0
    for place, step in sorted(ends):
        if step > 0:
            deep += 1
            if deep == least:
                # Where one copy ends as another begins, what they cover goes on.
                begin = found.pop().start if found and found[-1].stop == place else place
        else:
            if deep == least:
                found.append(Interval(begin, place))
            deep -= 1
    return tuple(found)
