"""Proof before offering: only those fixes are offered that cure when they are tried on the plan in memory.

Trials are bounded, so that a large plan with many faults is not inspected over and over. What the bound leaves is
tried at once, then by halves; a fix that no trial could reach is still offered, and says so.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from contextlib import suppress
from functools import cache
from itertools import zip_longest

from railbond.circuit.effort import Budget, OutOfEffort, at_most, spent
from railbond.findings import Finding, Fix
from railbond.inspection import Edits, Inspection
from trackplan.edit import apply, fits
from trackplan.read import read
from trackplan.span import Source

from .difference import line_edits
from .overlay import Attempted, InHead, Inspector, Overlay, Trial, inspect_plan

BUDGET = 14_000.0
"""Steps of effort that trials may take for one plan: about half a second."""

WHOLE, LEAST = 26_000.0, 5_000.0
"""Steps for a plan in all, what it took to inspect it among them, as far as that leaves the least for trials."""

OVERDRAFT = 2_500.0
"""Steps that trials may take beyond the budget; one that takes more is given up, and nothing is known of it."""

SYNTAX = "syntax"
"""The rule whose mend is proven by reading alone."""

BATCHES = 3
"""Trials of many fixes at once, beyond the budget, where it is too small for all of them."""


A_TRIAL = 0.15
"""What a trial takes that leaves most of a plan's faults, as a part of what it took to inspect the plan: no search, and
no mends to work out."""


def allowance(used: float) -> float:
    """The budget for the trials of a plan that took so many steps to inspect."""
    return min(BUDGET, max(LEAST, WHOLE - used))


def proven(
    root: str,
    inspection: Inspection,
    open_text: Callable[[str], str],
    inspector: Inspector = inspect_plan,
    budget: float = BUDGET,
    used: float = 0.0,
    in_head: InHead = lambda *_: None,
) -> Inspection:
    """The inspection with the fixes that were proven, and those that the budget left untried; it took `used`."""
    if not any(one.fixes for one in inspection.findings):
        return inspection
    overlay = Overlay([root], open_text, inspector, cache(in_head))  # several faults may have one and the same mend
    prover = _Prover(inspection, overlay, budget, A_TRIAL * used)
    with suppress(OutOfEffort):
        prover.alone()
    if budget >= 0:
        with suppress(OutOfEffort):
            prover.together(prover.left())
    findings = [one._replace(fixes=prover.offered(one)) for one in inspection.findings]
    return inspection._replace(findings=findings, after={})


def besides(found: Iterable[Finding]) -> tuple[str, ...]:
    """What is only found once a mend is made, in words: each rule's first finding, and where else it has one."""
    by_rule: dict[str, list[Finding]] = {}
    for one in found:
        by_rule.setdefault(one.rule, []).append(one)
    return tuple(f"{own[0].message} (rule {rule}{_the_same(own[1:])})" for rule, own in by_rule.items())


def _the_same(others: Sequence[Finding]) -> str:
    names = dict.fromkeys(one.names[0] for one in others if one.names)
    return f"; the same at {', '.join(names)}" if names else ""


class _Prover:
    def __init__(self, inspection: Inspection, overlay: Overlay, budget: float, dearest: float) -> None:
        (self.root,), self.inspection, self.overlay, self.budget = overlay.roots, inspection, overlay, Budget(budget)
        overlay.put(self.root, inspection)
        self.dearest = max(dearest, sum(text.text.count("\n") for text in inspection.sources.values()))
        self.batches = BATCHES
        self.verdicts: dict[Attempted, Fix | None] = {}

    def alone(self) -> None:
        """Tries every fix by itself, the first ones of all findings first; where that fails, with what was mended in
        the head before its finding was told. A fix in words only is offered as it is."""
        rows = [[(finding, fix) for fix in finding.fixes if fix.edits] for finding in self.inspection.after]
        for job in (job for column in zip_longest(*rows) for job in column if job):
            if job[0].rule == SYNTAX or self.budget.left > self.dearest:
                self.verdicts[job] = self._verdict(job)

    def _verdict(self, job: Attempted) -> Fix | None:
        """The fix as it is proven: with what it uncovered mended too, or else together with earlier mends."""
        if job[0].rule == SYNTAX:
            return job[1]._replace(proven="alone") if self._reads(job[1]) else None
        if trial := self._trial([job]):
            return (
                self._whole(trial) if len(trial.jobs) > 1 else job[1]._replace(proven="alone", then=besides(trial.then))
            )
        earlier = self.inspection.after[job[0]]
        return job[1]._replace(proven="together") if earlier and self._trial([job], earlier) else None

    def _reads(self, fix: Fix) -> bool:
        """Whether fewer lines are broken with a fix. What else it lets be found was only hidden by the broken line."""
        sources, paths = self.inspection.sources, {edit.at.path for edit in fix.edits}
        before = sum(len(read(sources[path]).broken) for path in paths)
        return sum(len(read(Source(path, apply(sources[path], fix.edits))).broken) for path in paths) < before

    def _trial(self, jobs: Sequence[Attempted], earlier: Edits = ()) -> Trial | None:
        """A trial; `dearest` is the most effort that one has taken, and to begin with what one can be thought to take.
        Raises OutOfEffort where it takes more than may be drawn."""
        before = spent()
        with at_most(max(self.budget.left, 0.0) + OVERDRAFT):
            trial = self.overlay.attempt(self.root, jobs, earlier, others=not jobs[0][1].plain)
        self.dearest = max(self.dearest, spent() - before)
        return trial

    def _whole(self, trial: Trial) -> Fix:
        """A fix and those of the faults that it uncovered as one."""
        fixes = [fix for _, fix in trial.jobs]
        sources = self.inspection.sources
        edits = [edit for path, text in trial.texts.items() for edit in line_edits(sources[path], text)]
        return Fix(
            "; then ".join(dict.fromkeys(fix.words for fix in fixes)),
            tuple(edits),
            all(fix.plain for fix in fixes),
            "; ".join(dict.fromkeys(fix.changes for fix in fixes if fix.changes)),
            "alone",
        )

    def left(self) -> list[Attempted]:
        """The first fix of every finding none of whose fixes was tried; notes are not worth a trial that does not fit
        into the budget."""
        worth = (finding for finding in self.inspection.after if finding.level != "note")
        jobs = ([(finding, fix) for fix in finding.fixes if fix.edits] for finding in worth)
        return [own[0] for own in jobs if own and not any(job in self.verdicts for job in own)]

    def together(self, jobs: list[Attempted]) -> None:
        """Tries fixes all at once, and by halves where that fails."""
        if not jobs or not self.batches:
            return
        self.batches -= 1
        trial = self._trial(jobs)
        if trial and len(trial.jobs) == len(jobs):
            self.verdicts |= {job: job[1]._replace(proven="together") for job in jobs}
        elif len(jobs) > 1:
            self.together(jobs[: len(jobs) // 2])
            self.together(jobs[len(jobs) // 2 :])

    def offered(self, finding: Finding) -> tuple[Fix, ...]:
        """The finding's fixes as proven or untried, without those that failed; those with which more is found last."""
        untried = [self._untried(fix) if fix.edits else fix for fix in finding.fixes]
        verdicts = (self.verdicts.get((finding, fix), no) for fix, no in zip(finding.fixes, untried, strict=True))
        return tuple(sorted(dict.fromkeys(fix for fix in verdicts if fix), key=lambda fix: bool(fix.then)))

    def _untried(self, fix: Fix) -> Fix | None:
        """A fix that no trial reached; None where it changes what is not in the text as it stands."""
        return fix._replace(proven="untried") if fits(fix.edits, self.inspection.sources) else None
