"""Plans that grow, read and proven in one process: time a line, and time against n·log n."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from functools import partial
from math import log

from trackplan.book import gather

from benchmark.timing import Measure, medians
from oracle.plans import big_layout, big_yard
from railbond.inspection import Inspection, inspect

LINES = (100, 1_000, 10_000, 100_000)
LINES_A_TURNOUT = 8.6


def measures() -> Iterator[Measure]:
    """Flat from 100 to 100,000 lines; a yard of 1,000 turnouts and a layout of 10,000."""
    yield from flat()
    yield growth("a yard", big_yard, (100, 1_000))
    yield growth("a layout", big_layout, (1_000, 10_000))


def flat() -> Iterator[Measure]:
    """Time a line, as a ratio to that of the 1,000-line plan."""
    texts = {str(lines): big_layout(int(lines / LINES_A_TURNOUT)) for lines in LINES}
    taken = {name: seconds / texts[name].count("\n") for name, seconds in timed(texts).items()}
    for name, each in taken.items():
        what = f"{name} lines, time a line / that of 1,000 lines ({each * 1e6:.0f} µs)"
        yield Measure(what, each / taken["1000"], most=2)


def growth(what: str, plan: Callable[[int], str], turnouts: tuple[int, int]) -> Measure:
    """How much longer the large plan takes, over how much longer n·log n is."""
    small, large = turnouts
    taken = timed({str(size): plan(size) for size in turnouts})
    expected = large * log(large) / (small * log(small))
    what = f"{what} of {large} turnouts / n·log n from {small} on ({taken[str(large)]:.2f} s)"
    return Measure(what, taken[str(large)] / taken[str(small)] / expected, most=1)


def timed(texts: dict[str, str]) -> dict[str, float]:
    """Median seconds of a whole inspection of each text; large ones run less often."""
    rounds = 3 if sum(map(len, texts.values())) < 3_000_000 else 1
    return medians({name: partial(inspected, text) for name, text in texts.items()}, rounds)


def inspected(text: str) -> Inspection:
    """The inspection of a plan that must be sound."""
    inspection = inspect(gather("plan.trackplan", {"plan.trackplan": text}.__getitem__))
    assert not [one for one in inspection.findings if one.level == "error"], inspection.findings[:3]
    return inspection
