"""Proof before offering: only those fixes are offered that cure when they are tried on the plan in memory.

Trials are bounded, so that a large plan with many faults is not inspected over and over. What the bound leaves is
tried at once, then by halves; a fix that no trial could reach is still offered, and says so.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from itertools import zip_longest

from railbond.findings import Finding, Fix, Proven
from railbond.inspection import Edits, Inspection

from .desk import Desk

BUDGET = 20_000
"""Lines that trials may read for one plan: a plan of 200 lines has room for 100 trials."""

BATCHES = 3
"""Trials of many fixes at once, beyond the budget, where it is too small for all of them."""

Job = tuple[Finding, Fix]


def proven(root: str, inspection: Inspection, open_text: Callable[[str], str], budget: int = BUDGET) -> Inspection:
    """The inspection with the fixes that were proven, and those that the budget left untried."""
    if not any(one.fixes for one in inspection.findings):
        return inspection
    prover = _Prover(root, inspection, open_text, budget)
    prover.alone()
    prover.together(prover.left())
    findings = [one._replace(fixes=prover.offered(one)) for one in inspection.findings]
    return Inspection(inspection.sources, findings)


class _Prover:
    def __init__(
        self, root: str, inspection: Inspection, open_text: Callable[[str], str], budget: int
    ) -> None:
        self.root, self.inspection, self.budget = root, inspection, budget
        self.desk = Desk([root], open_text)
        self.desk.put(root, inspection)
        self.cost = sum(len(source.starts) for source in inspection.sources.values())
        self.trials, self.batches = 0, BATCHES
        self.verdicts: dict[Job, Proven | None] = {}

    def alone(self) -> None:
        """Tries every fix by itself, the first ones of all findings first; where that fails, with what was mended in
        the head before its finding was told."""
        rows = [[(finding, fix) for fix in finding.fixes] for finding in self.inspection.after]
        for job in (job for column in zip_longest(*rows) for job in column if job):
            if not self.affords(2 if self.inspection.after[job[0]] else 1):
                return
            self.verdicts[job] = self._verdict(*job)

    def affords(self, trials: int) -> bool:
        return (self.trials + trials) * self.cost <= self.budget

    def _verdict(self, finding: Finding, fix: Fix) -> Proven | None:
        if self._cures([finding], fix.edits):
            return "alone"
        before = self.inspection.after[finding]
        return "together" if before and self._cures([finding], (*before, *fix.edits)) else None

    def _cures(self, findings: Sequence[Finding], edits: Edits) -> bool:
        self.trials += 1
        return self.desk.attempt(self.root, findings, edits) is not None

    def left(self) -> list[Job]:
        """The first fix of every finding none of whose fixes was tried."""
        return [
            (finding, finding.fixes[0])
            for finding in self.inspection.after
            if finding.fixes and not any((finding, fix) in self.verdicts for fix in finding.fixes)
        ]

    def together(self, jobs: list[Job]) -> None:
        """Tries fixes all at once, and by halves where that fails."""
        if not jobs or not self.batches:
            return
        self.batches -= 1
        if self._cures([finding for finding, _ in jobs], tuple(e for _, fix in jobs for e in fix.edits)):
            self.verdicts |= dict.fromkeys(jobs, "together")
        elif len(jobs) > 1:
            self.together(jobs[: len(jobs) // 2])
            self.together(jobs[len(jobs) // 2 :])

    def offered(self, finding: Finding) -> tuple[Fix, ...]:
        """The finding's fixes with their verdicts, without those that failed."""
        verdicts = [(fix, self.verdicts.get((finding, fix), "")) for fix in finding.fixes]
        return tuple(fix._replace(proven=verdict) for fix, verdict in verdicts if verdict is not None)
