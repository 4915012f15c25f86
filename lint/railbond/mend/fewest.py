"""Looks for a smaller mend: every set of as many fixes as the rounds made, or of fewer, in every order.

Only the first fix of each finding is tried, the one that its rule thinks best: another may change fewer lines and be
worse track. The smallest mend changes the fewest lines of the plan, and of such has the fewest fixes. The search is
exact until its budget ends; then the best that it has seen is kept.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterator
from typing import NamedTuple

from railbond.findings import LEVELS, Finding, Fix
from trackplan.span import Source

from .desk import Desk, Job, State
from .difference import changed_lines

BUDGET = 10_000
"""Lines that trials may read for one plan: three faults in a plan of 60 lines take about 50 trials."""

Open = Callable[[str], Iterator[tuple[Finding, list[Fix]]]]
"""The findings of a plan that are to be mended, each with its fixes that are admitted."""


class Mend(NamedTuple):
    """Fixes made from the start of a search, and the desk as they leave it. `left` counts the findings that remain, the
    worst level first; `size` is how many lines are changed, and how many fixes."""

    jobs: list[Job]
    state: State
    left: tuple[int, ...]
    size: tuple[int, int]


class Search:
    """Mends of one plan on a desk, beginning at its state."""

    def __init__(self, desk: Desk, root: str, open_: Open, others: bool) -> None:
        self.desk, self.root, self.open, self.others = desk, root, open_, others
        self.start = desk.state()
        self.sources = dict(desk.inspection(root).sources)
        self.trials = BUDGET // max(sum(len(source.starts) for source in self.sources.values()), 1)
        self.seen: set[str] = set()

    def mend(self, jobs: list[Job]) -> Mend:
        """The desk as it is now, as a mend."""
        left = Counter(finding.level for finding, _ in self.open(self.root))
        texts = self.desk.texts.items()
        lines = sum(changed_lines(self._source(path), text) for path, text in texts if path in self.sources)
        return Mend(jobs, self.desk.state(), tuple(left[level] for level in reversed(LEVELS)), (lines, len(jobs)))

    def _source(self, path: str) -> Source:
        return self.sources[path]

    def smaller(self, known: Mend) -> Mend:
        """The smallest mend that leaves no more than a known one, of no more fixes; that itself where there is none."""
        best = known
        for mend in self._below([], len(known.jobs)):
            if mend.left <= best.left and mend.size < best.size:
                best = mend
        self.desk.restore(best.state)
        return best

    def _below(self, made: list[Job], most: int) -> Iterator[Mend]:
        """Every mend that goes on from some fixes with up to `most` in all."""
        here = self.desk.state() if made else self.start
        for job in self._jobs(here):
            self.desk.restore(here)
            trial = self.desk.attempt(self.root, [job], others=self.others)
            self.trials -= 1
            if trial and len(made) + len(trial.jobs) <= most and self._is_new(trial.texts):
                self.desk.make(trial)
                mend = self.mend([*made, *trial.jobs])
                yield mend
                if len(mend.jobs) < most:
                    self.desk.restore(mend.state)
                    yield from self._below(mend.jobs, most)

    def _jobs(self, state: State) -> Iterator[Job]:
        self.desk.restore(state)
        jobs = [(finding, fixes[0]) for finding, fixes in self.open(self.root) if fixes]
        return (job for job in jobs if self.trials > 0)

    def _is_new(self, texts: dict[str, str]) -> bool:
        told = repr(sorted((self.desk.texts | texts).items()))
        is_new = told not in self.seen
        self.seen.add(told)
        return is_new
