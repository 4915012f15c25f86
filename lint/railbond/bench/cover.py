"""Choosing the fewest probes that show all there is to be shown."""

from __future__ import annotations

from collections import Counter
from heapq import heapify, heappop, heappush

from .probes import Bench, Probe
from .test_points import TestPoints

Shown = dict[Probe, set[int]]
"""The classes of mistakes that each probe shows."""


def cover(bench: Bench) -> list[Probe]:
    """Probes that show every mistake that any probe of these settings can show."""
    shown = bench.shown()
    chosen = _needed(bench, _greedy(bench, shown), shown)
    return _paired(bench, chosen, shown)


def _greedy(bench: Bench, shown: Shown) -> list[Probe]:
    """Again and again the probe that shows the most of what is left; of equals, one with its two ends close by."""
    left = set().union(*shown.values()) if shown else set()
    heap = [(-bench.count(classes), *_trouble(probe, bench.points), probe) for probe, classes in shown.items()]
    heapify(heap)
    chosen = []
    while left:
        information, *trouble, probe = heappop(heap)
        now = bench.count(shown[probe] & left)
        if now == -information:
            chosen.append(probe)
            left -= shown[probe]
        elif now:
            heappush(heap, (-now, *trouble, probe))  # type: ignore[misc]
    return chosen


def _trouble(probe: Probe, points: TestPoints) -> tuple[int, float, float]:
    """What a probe costs its reader: its setting, how far apart its ends are, and how far along they come."""
    one, other = points.order[probe.one], points.order[probe.other]
    return probe.stand, abs(one - other), one


def _needed(bench: Bench, chosen: list[Probe], shown: Shown) -> list[Probe]:
    """Without the probes that show nothing which the others do not."""
    times = Counter(mistake for probe in chosen for mistake in shown[probe])
    kept = []
    for probe in sorted(chosen, key=lambda one: bench.count(shown[one])):
        if all(times[mistake] > 1 for mistake in shown[probe]):
            for mistake in shown[probe]:
                times[mistake] -= 1
        else:
            kept.append(probe)
    return kept


def _paired(bench: Bench, chosen: list[Probe], shown: Shown) -> list[Probe]:
    """Two probes of one setting made into one between their far ends, wherever that shows as much."""
    kept: list[Probe] = []
    mates: dict[tuple[int, int], list[int]] = {}
    times = Counter(mistake for probe in chosen for mistake in shown[probe])
    order = bench.points.order
    for probe in sorted(chosen, key=lambda one: (one.stand, order[one.other])):
        here = mates.setdefault((probe.stand, bench.home(probe)), []) if probe.beeps else []
        for place in here:
            both = _one_for(bench, kept[place], probe, times, shown)
            if both:
                times.subtract((*shown[kept[place]], *shown[probe]))
                times.update(shown[both])
                kept[place] = both
                break
        else:
            here.append(len(kept))
            kept.append(probe)
    return kept


def _one_for(bench: Bench, one: Probe, two: Probe, times: Counter[int], shown: Shown) -> Probe | None:
    """A probe that shows all that these two do and no other probe does: `times` counts how many show a mistake. The two
    beep, and touch the same component."""
    alone = [m for m in shown[one] | shown[two] if times[m] <= (m in shown[one]) + (m in shown[two])]
    for start in (one.one, one.other):
        for stop in (two.one, two.other):
            ends = bench.metal.atom[start], bench.metal.atom[stop]
            if ends[0] != ends[1]:
                probe = bench.probe(one.stand, *ends)
                if all(bench.sees(probe, mistake) for mistake in alone):
                    if probe not in shown:
                        shown[probe] = seen(bench, probe)
                    return probe
    return None


def seen(bench: Bench, probe: Probe) -> set[int]:
    """The classes that a probe which must beep shows: such as cut one of its ends off."""
    ends = ((probe.stand, bench.metal.atom[end]) for end in (probe.one, probe.other))
    near = set[int]().union(*(bench.cutting.get(end, ()) for end in ends))
    return {one for one in near if bench.sees(probe, one)}
