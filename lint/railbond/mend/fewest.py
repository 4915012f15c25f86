"""Looks for a smaller mend: every set of as many fixes as the rounds made, or of fewer, in every order.

Only the first fix of each finding is tried, the one that its rule thinks best: another may change fewer lines and be
worse track. The smallest mend changes the fewest lines of the plan, and of such has the fewest fixes. The search is
exact until its budget ends; then the best that it has seen is kept.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterator
from contextlib import suppress
from typing import NamedTuple

from railbond.circuit.effort import Budget, OutOfEffort, at_most, ration
from railbond.findings import LEVELS, Finding, Fix
from trackplan.span import Source

from .difference import changed_lines
from .overlay import Attempted, Overlay, State

BUDGET = 6_000.0
"""Steps of effort that trials may take for one plan: three faults in a plan of 60 lines take about 50 trials."""

LAST = 2_000.0
"""Steps that the last trial may take beyond that."""

Open = Callable[[str], Iterator[tuple[Finding, list[Fix]]]]
"""The findings of a plan that are to be mended, each with its fixes that are admitted."""


class FixSet(NamedTuple):
    """Fixes made from the start of a search, and the overlay as they leave it. `left` counts the findings that remain,
    the worst level first; `size` is how many lines are changed, and how many fixes."""

    jobs: list[Attempted]
    state: State
    left: tuple[int, ...]
    size: tuple[int, int]


class Search:
    """Mends of one plan on an overlay, beginning at its state."""

    def __init__(self, overlay: Overlay, root: str, open_: Open, others: bool) -> None:
        self.overlay, self.root, self.open, self.others = overlay, root, open_, others
        self.start = overlay.state()
        self.sources = dict(overlay.inspection(root).sources)
        self.budget: Budget | None = None
        self.seen: set[str] = set()

    def mend(self, jobs: list[Attempted]) -> FixSet:
        """The desk as it is now, as a mend."""
        left = Counter(finding.level for finding, _ in self.open(self.root))
        texts = self.overlay.texts.items()
        lines = sum(changed_lines(self._source(path), text) for path, text in texts if path in self.sources)
        return FixSet(jobs, self.overlay.state(), tuple(left[level] for level in reversed(LEVELS)), (lines, len(jobs)))

    def _source(self, path: str) -> Source:
        return self.sources[path]

    def smaller(self, known: FixSet) -> FixSet:
        """The smallest mend that leaves no more than a known one, of no more fixes; that itself where there is none."""
        if known.size <= (1, 1):
            return known
        steps = min(BUDGET, max(LAST, ration()))
        best, self.budget = known, Budget(steps)
        with suppress(OutOfEffort), at_most(steps + LAST):
            for mend in self._below([], len(known.jobs)):
                if mend.left <= best.left and mend.size < best.size:
                    best = mend
        self.overlay.restore(best.state)
        return best

    def _below(self, made: list[Attempted], most: int) -> Iterator[FixSet]:
        """Every mend that goes on from some fixes with up to `most` in all."""
        here = self.overlay.state() if made else self.start
        for job in self._jobs(here):
            self.overlay.restore(here)
            trial = self.overlay.attempt(self.root, [job], others=self.others)
            if trial and len(made) + len(trial.jobs) <= most and self._is_new(trial.texts):
                self.overlay.make(trial)
                mend = self.mend([*made, *trial.jobs])
                yield mend
                if len(mend.jobs) < most:
                    self.overlay.restore(mend.state)
                    yield from self._below(mend.jobs, most)

    def _jobs(self, state: State) -> Iterator[Attempted]:
        self.overlay.restore(state)
        jobs = [(finding, fixes[0]) for finding, fixes in self.open(self.root) if fixes]
        return (job for job in jobs if self.budget and self.budget.left > 0)

    def _is_new(self, texts: dict[str, str]) -> bool:
        told = repr(sorted((self.overlay.texts | texts).items()))
        is_new = told not in self.seen
        self.seen.add(told)
        return is_new
