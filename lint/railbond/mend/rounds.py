"""Mends plans round by round, until nothing is left that a fix could cure.

Every step takes findings away and adds none that is as bad, in no plan on the overlay, so the rounds end.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterator
from contextlib import suppress
from functools import partial
from math import inf
from typing import NamedTuple

from railbond.circuit.effort import Budget, OutOfEffort, at_most, rationing, spent
from railbond.findings import Finding, Fix

from .fewest import LAST, Search
from .overlay import Attempted, Overlay
from .whole import FEW, made_whole

ASKED = "ask for it with --rule"
UNTRIED = "its mends could not all be tried: there are many faults at once. Mend some, and run again"

WHOLE, LEAST = 38_000.0, 12_000.0
"""Steps of effort that a plan may take in all, what it took to inspect it among them, as far as that leaves the least
for the rounds, for each file that it is made of: about a second and a half for a plan of 200 lines that is full of
faults. A meet's modules are inspected one by one and all together, and have taken most of it by then."""

BUDGET = 18_000.0
"""Steps that the rounds of one plan may take at most."""


class Left(NamedTuple):
    """A finding that could not be mended, with its plan, and why. Its places are those of the mended text."""

    root: str
    finding: Finding
    why: str


Judged = Callable[[str, Finding], Finding | None]
"""A finding of a plan with the level that its owner gives it; None of one that nobody wants to hear of."""


class Mended(NamedTuple):
    """What was mended, in order, each finding with its places at that time; and what is left."""

    made: list[Attempted]
    left: list[Left]


def mend(
    overlay: Overlay,
    rules: Collection[str] = (),
    made: list[Attempted] | None = None,
    most: float = inf,
    judged: Judged = lambda _, finding: finding,
) -> Mended:
    """Mends every plan on the overlay; with `rules`, only what those find, and then by fixes that are not plain too.
    `made` is filled as it goes on, for whoever stops it; the rounds of a plan take so many steps at `most`.
    A long plan with many faults is mended as a whole first, and one with few where the rounds had too few steps
    (`whole`), for what is found in it as it is `judged`."""
    mender = _Mender(overlay, rules, [] if made is None else made, most)
    first = {root for root in overlay.roots if mender.whole(root, judged, FEW)}
    while any([mender.rounds(root) for root in overlay.roots]):
        pass
    for root in overlay.roots:
        if mender.budgets[root].left <= 0 and root not in first:
            mender.whole(root, judged, 0)
    return Mended(mender.made, [one for root in overlay.roots for one in mender.left(root)])


class _Mender:
    def __init__(self, overlay: Overlay, rules: Collection[str], made: list[Attempted], most: float) -> None:
        self.overlay, self.rules, self.made, self.most = overlay, rules, made, most
        self.budgets: dict[str, Budget] = {}

    def whole(self, root: str, judged: Judged, few: int) -> bool:
        """Makes what can be made of a long plan at once, if it is more than a few mends; whether anything was."""
        before = len(self.made)
        with suppress(OutOfEffort), at_most(self.most):
            self.made += made_whole(self.overlay, root, self.rules, self._admitted, partial(judged, root), few)
        return len(self.made) > before

    def rounds(self, root: str) -> bool:
        """Mends a plan until nothing is left to be made; then, where a smaller mend does as well, by that."""
        if root not in self.budgets:
            before_it = spent()
            files = len(self.overlay.inspection(root).sources)
            self.budgets[root] = Budget(min(BUDGET, self.most, max(LEAST * files, WHOLE - (spent() - before_it))))
        with rationing(self.budgets[root].left):
            return self._rounds(root)

    def _rounds(self, root: str) -> bool:
        search, before = Search(self.overlay, root, self._open, bool(self.rules)), len(self.made)
        while self._round(root):
            pass
        made = self.made[before:]
        if made:
            self.made[before:] = search.smaller(search.mend(made)).jobs
        return bool(made)

    def _round(self, root: str) -> bool:
        """Makes what can be made at once in a plan; whether anything was."""
        jobs = [(finding, fixes[0]) for finding, fixes in self._open(root) if fixes]
        return bool(jobs) and self._batch(root, jobs)

    def _open(self, root: str) -> Iterator[tuple[Finding, list[Fix]]]:
        return ((finding, self._admitted(finding)) for finding in self._asked(root))

    def _asked(self, root: str) -> Iterator[Finding]:
        """The findings to mend, in the order in which they were told."""
        after = self.overlay.inspection(root).after
        return (one for one in after if not self.rules or one.rule in self.rules)

    def _admitted(self, finding: Finding) -> list[Fix]:
        return [fix for fix in finding.fixes if fix.edits and (fix.plain or self.rules)]

    def _batch(self, root: str, jobs: list[Attempted]) -> bool:
        """Makes the fixes all together, or half of them where that fails, down to a single finding."""
        if self._make(root, jobs):
            return True
        if len(jobs) == 1:
            finding = jobs[0][0]
            return any(self._make(root, [(finding, fix)]) for fix in self._admitted(finding)[1:])
        half = len(jobs) // 2
        return self._batch(root, jobs[:half]) or self._batch(root, jobs[half:])

    def _make(self, root: str, jobs: list[Attempted]) -> bool:
        if self.budgets[root].left <= 0:
            return False
        trial = None
        with suppress(OutOfEffort), at_most(self.budgets[root].left + LAST):
            trial = self.overlay.attempt(root, jobs, others=bool(self.rules))
        if trial is None:
            return False
        self.made += trial.jobs
        self.overlay.make(trial)
        return True

    def left(self, root: str) -> Iterator[Left]:
        """What is left of what was asked for, each with the reason."""
        for finding in self._asked(root):
            yield Left(root, finding, self._why(root, finding))

    def _why(self, root: str, finding: Finding) -> str:
        if self.budgets[root].left <= 0:
            return UNTRIED
        others = [fix for fix in finding.fixes if fix.edits and not fix.plain and not self.rules]
        try:
            with at_most(self.budgets[root].left + LAST):
                cures = next((fix for fix in others if self.overlay.attempt(root, [(finding, fix)])), None)
        except OutOfEffort:
            return UNTRIED
        if cures:
            return f"its mend is more than a cut, a drop or a swap ({cures.changes}); {ASKED} {finding.rule}"
        if not any(fix.edits for fix in finding.fixes):
            words = [fix.words for fix in finding.fixes]
            return f"it is for you to {words[0]}" if words else "no mend is known for it here"
        return "each of its mends leaves it, or puts another fault in its place"
