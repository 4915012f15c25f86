"""Whether the fixes that are offered for a plan hold what they promise, tried again from the outside."""

from __future__ import annotations

from collections import Counter
from pathlib import Path
from typing import NamedTuple

from railbond.findings import LEVELS, Finding, Fix
from railbond.inspection import Inspection, inspect
from railbond.mend.proving import proven
from trackplan.edit import apply
from trackplan.gather import gather
from trackplan.read import read
from trackplan.span import Source

PLAN = "plan.trackplan"


class Plans(NamedTuple):
    """A plan's text, and the folder in which the files lie that it includes."""

    text: str
    folder: Path | None = None

    def open_text(self, path: str) -> str:
        if path == PLAN:
            return self.text
        if self.folder is None:
            raise FileNotFoundError(path)
        return (self.folder / path).read_text(encoding="utf-8")

    def inspected(self) -> Inspection:
        return inspect(gather(PLAN, self.open_text))

    def proven(self, **more: int) -> Inspection:
        """The plan's findings with the fixes that were proven."""
        return proven(PLAN, self.inspected(), self.open_text, **more)


def faults_of_fixes(text: str, folder: Path | None = None) -> list[str]:
    """What is wrong with any fix of a plan's own text offered as proven by itself; empty when all hold."""
    plan = Plans(text, folder)
    offered = [
        (one, fix)
        for one in plan.proven().findings
        for fix in one.fixes
        if fix.edits and fix.proven == "alone" and all(edit.at.path == PLAN for edit in fix.edits)
    ]
    return [f"{one.rule}: {fix.words}: {fault}" for one, fix in offered if (fault := broken_promise(plan, one, fix))]


def broken_promise(plan: Plans, finding: Finding, fix: Fix) -> str:
    """What a fix promises and does not hold; empty when it holds all."""
    source = Source(PLAN, plan.text)
    text = apply(source, fix.edits)
    if lost := lost_lines(source.text, text, fix):
        return f"lines lost: {lost}"
    if comments(source.text) != comments(text):
        return "a comment is lost"
    if len(read(Source(PLAN, text)).broken) > len(read(source).broken):
        return "a line does not read"
    inspection, after = plan.inspected(), plan._replace(text=text).inspected().findings
    before, written = inspection.findings, list(inspection.known)
    if count(after, finding.rule) >= max(count(before, finding.rule), count(written, finding.rule)):
        return "as many findings of its rule as before"
    least = LEVELS.index(finding.level)
    known = {one: max(of_level(before, one), of_level(written, one)) for one in LEVELS}
    worse = [one for one in LEVELS[least:] if of_level(after, one) > known[one]]
    return f"more findings of level {worse[0]}" if worse else ""


def count(findings: list[Finding], rule: str) -> int:
    return sum(one.rule == rule for one in findings)


def of_level(findings: list[Finding], level: str) -> int:
    return sum(one.level == level for one in findings)


def comments(text: str) -> list[str]:
    """The comments of a plan in which no quoted text holds a #."""
    return [line[line.index("#") :].rstrip() for line in text.splitlines() if "#" in line]


def lost_lines(old: str, new: str, fix: Fix) -> list[str]:
    """Lines that are gone though no edit touches them; each is compared with its line end."""
    source = Source(PLAN, old)
    touched = {
        line
        for edit in fix.edits
        if not edit.line
        for line in range(source.line_of(edit.at.start), source.line_of(edit.at.end) + 1)
    }
    lines = Counter(old.splitlines(keepends=True)[line] for line in untouched(old, touched))
    return list((lines - Counter(new.splitlines(keepends=True))).elements())


def untouched(text: str, touched: set[int]) -> list[int]:
    return [line for line in range(len(text.splitlines())) if line not in touched]
