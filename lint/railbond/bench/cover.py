"""Choosing the fewest probes that show all there is to be shown."""

from __future__ import annotations

from collections import Counter
from heapq import heapify, heappop, heappush

from .probes import Bench, Probe
from .test_points import TestPoints

Shown = dict[Probe, set[int]]


def cover(bench: Bench) -> list[Probe]:
    """Probes that show every mistake that any probe of these settings can show."""
    shown = bench.shown()
    chosen = _needed(_greedy(shown, bench.points), shown)
    return _paired(bench, chosen, shown)


def _greedy(shown: Shown, points: TestPoints) -> list[Probe]:
    """Again and again the probe that shows the most of what is left; of equals, one with its two ends close by."""
    left = set().union(*shown.values()) if shown else set()
    heap = [(-len(mistakes), *_trouble(probe, points), probe) for probe, mistakes in shown.items()]
    heapify(heap)
    chosen = []
    while left:
        information, *trouble, probe = heappop(heap)
        now = len(shown[probe] & left)
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


def _needed(chosen: list[Probe], shown: Shown) -> list[Probe]:
    """Without the probes that show nothing which the others do not."""
    times: dict[int, int] = {}
    for probe in chosen:
        for mistake in shown[probe]:
            times[mistake] = times.get(mistake, 0) + 1
    kept = []
    for probe in sorted(chosen, key=lambda one: len(shown[one])):
        if all(times[mistake] > 1 for mistake in shown[probe]):
            for mistake in shown[probe]:
                times[mistake] -= 1
        else:
            kept.append(probe)
    return kept


def _paired(bench: Bench, chosen: list[Probe], shown: Shown) -> list[Probe]:
    """Two probes of one setting made into one between their far ends, wherever that shows as much."""
    kept: list[Probe] = []
    times = Counter(mistake for probe in chosen for mistake in shown[probe])
    order = bench.points.order
    for probe in sorted(chosen, key=lambda one: (one.stand, order[one.other])):
        for place, mate in enumerate(kept):
            both = _one_for(bench, mate, probe, times, shown)
            if both:
                times.subtract((*shown[mate], *shown[probe]))
                times.update(shown[both])
                kept[place] = both
                break
        else:
            kept.append(probe)
    return kept


def _one_for(bench: Bench, one: Probe, two: Probe, times: Counter[int], shown: Shown) -> Probe | None:
    """A probe that shows all that these two do and no other probe does: `times` counts how many show a mistake."""
    if one.stand != two.stand or not one.beeps or not two.beeps:
        return None
    if bench.homes[one.stand][bench.metal.atom[one.one]] != bench.homes[one.stand][bench.metal.atom[two.one]]:
        return None
    alone = [m for m in shown[one] | shown[two] if times[m] <= (m in shown[one]) + (m in shown[two])]
    for start in (one.one, one.other):
        for stop in (two.one, two.other):
            ends = bench.metal.atom[start], bench.metal.atom[stop]
            if ends[0] != ends[1]:
                probe = bench.probe(one.stand, *ends)
                if all(bench.shows(probe, mistake) for mistake in alone):
                    shown.setdefault(probe, {m for m in range(len(bench.mistakes)) if bench.shows(probe, m)})
                    return probe
    return None
