"""Times, and ratios of times beside their goals."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from statistics import median
from time import perf_counter
from typing import NamedTuple

Work = Callable[[], object]
Clock = Callable[[], float]


class Measure(NamedTuple):
    """A ratio, and what it may be at most or must be at least (None: no goal, for information)."""

    what: str
    ratio: float
    most: float | None = None
    least: float | None = None

    @property
    def met(self) -> bool:
        too_much = self.most is not None and self.ratio > self.most
        return not (too_much or (self.least is not None and self.ratio < self.least))

    def __str__(self) -> str:
        goal = f"at most {self.most:g}" if self.most is not None else ""
        goal = f"at least {self.least:g}" if self.least is not None else goal
        end = f"  ({goal}{'' if self.met else ': MISSED'})" if goal else ""
        return f"{self.ratio:>9.3g}  {self.what}{end}"


def seconds(work: Work, clock: Clock) -> float:
    """How long one run takes."""
    start = clock()
    work()
    return clock() - start


def medians(works: Mapping[str, Work], rounds: int, clock: Clock = perf_counter) -> dict[str, float]:
    """The median time of each work, in seconds; the rounds go around all works, so that a slow moment of the
    machine meets them alike."""
    times: dict[str, list[float]] = {name: [] for name in works}
    for _ in range(rounds):
        for name, work in works.items():
            times[name].append(seconds(work, clock))
    return {name: median(taken) for name, taken in times.items()}
