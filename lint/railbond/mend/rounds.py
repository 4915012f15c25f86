"""Mends plans round by round, until nothing is left that a fix could cure.

Every step takes findings away and adds none that is as bad, in no plan on the desk, so the rounds end.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator
from typing import NamedTuple

from railbond.findings import Finding, Fix

from .desk import Desk

Job = tuple[Finding, Fix]


class Made(NamedTuple):
    """A fix that was made for a finding of a plan. `place` is the finding's file, and line from 1, as it was told."""

    root: str
    place: tuple[str, int]
    finding: Finding
    fix: Fix


class Left(NamedTuple):
    """A finding that could not be mended, with its place as it is now, and why."""

    root: str
    place: tuple[str, int]
    finding: Finding
    why: str


class Mended(NamedTuple):
    made: list[Made]
    left: list[Left]


def mend(desk: Desk, rules: Collection[str] = ()) -> Mended:
    """Mends every plan on the desk; with `rules`, only what those find, and then also by fixes that are not plain."""
    mender = _Mender(desk, rules)
    while any([mender.round(root) for root in desk.roots]):
        pass
    return Mended(mender.made, [one for root in desk.roots for one in mender.left(root)])


class _Mender:
    def __init__(self, desk: Desk, rules: Collection[str]) -> None:
        self.desk, self.rules = desk, rules
        self.made: list[Made] = []

    def round(self, root: str) -> bool:
        """Makes what can be made at once in a plan; whether anything was."""
        jobs = [(finding, fixes[0]) for finding in self._asked(root) if (fixes := self._admitted(finding))]
        return bool(jobs) and self._batch(root, jobs)

    def _asked(self, root: str) -> Iterator[Finding]:
        """The findings to mend, in the order in which they were told."""
        after = self.desk.inspection(root).after
        return (one for one in after if not self.rules or one.rule in self.rules)

    def _admitted(self, finding: Finding) -> list[Fix]:
        return [fix for fix in finding.fixes if fix.plain or self.rules]

    def _batch(self, root: str, jobs: list[Job]) -> bool:
        """Makes the fixes all together, or half of them where that fails, down to a single finding."""
        if self._make(root, jobs):
            return True
        if len(jobs) == 1:
            finding = jobs[0][0]
            return any(self._make(root, [(finding, fix)]) for fix in self._admitted(finding)[1:])
        half = len(jobs) // 2
        return self._batch(root, jobs[:half]) or self._batch(root, jobs[half:])

    def _make(self, root: str, jobs: list[Job]) -> bool:
        edits = [edit for _, fix in jobs for edit in fix.edits]
        trial = self.desk.attempt(root, [finding for finding, _ in jobs], edits)
        if trial is None:
            return False
        self.made += [Made(root, self._place(root, finding), finding, fix) for finding, fix in jobs]
        self.desk.make(trial)
        return True

    def _place(self, root: str, finding: Finding) -> tuple[str, int]:
        source = self.desk.inspection(root).sources[finding.at.path]
        return source.path, source.line_column(finding.at.start)[0]

    def left(self, root: str) -> Iterator[Left]:
        """What is left of what was asked for, each with the reason."""
        for finding in self._asked(root):
            yield Left(root, self._place(root, finding), finding, self._why(root, finding))

    def _why(self, root: str, finding: Finding) -> str:
        others = [fix for fix in finding.fixes if not fix.plain and not self.rules]
        for fix in others:
            if self.desk.attempt(root, [finding], fix.edits):
                return f"to mend it is more than a cut, a drop or a swap ({fix.changes}): ask for it by its rule"
        if not finding.fixes:
            return "no mend is known for it here"
        return "no mend of it cures it here without a fault in its place"
