"""Takes out again what is not needed: lines without which nothing more is found, tried many at a time."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Callable, Iterable, Iterator

from railbond.circuit.effort import Budget
from railbond.findings import Finding
from railbond.inspection import as_written
from railbond.rules import askable

from .draft import Draft, WrittenLine

BUDGET = 12_000
"""Lines that may be read to find out which of the new lines are not needed."""
STEPS = 30_000.0
"""Steps of effort that this may take: of a plan full of faults each look takes many."""
MOST_JOINED = 600
"""Lines of a plan of which the cuts are tried: where many supplies run into one another, the proof takes long."""
ORDER = ("bond", "gap", "feeder", "frog", "cut")
"""What is tried, dear things and those that are most often not needed first."""
APART = {"frog": 0}
"""Joints that lie between two lines that are tried together, so that each one's lack is told at its own place."""
USUALLY_APART = 2
SINGLY, MOST_SINGLY = ("bond", "feeder"), 12
"""Lines that are missed together and are then tried one by one: what one does for its neighbors is told at all."""
QUICK = ("unfed-rail", "unfed-frog", "feeders-too-far-apart")
"""The rules that miss most lines, and are soon asked: only where they miss nothing are all of them asked."""
WORD = re.compile(r"[\w-]+")

Keys = Counter[tuple[str, tuple[str, ...]]]


def thinned(draft: Draft, told: Callable[[Draft], list[Finding]], kinds: Iterable[str], steps: float = STEPS) -> None:
    """Takes out the lines of some kinds that make no difference, as far as the budget and so many steps go."""
    _Thinning(draft, told, min(steps, STEPS)).all(list(kinds))


class _Thinning:
    def __init__(self, draft: Draft, told: Callable[[Draft], list[Finding]], steps: float) -> None:
        self.draft, self.told, self.left, self.budget = draft, told, float(BUDGET), Budget(steps)
        self.near: dict[str, set[str]] = {}
        self.joints: dict[str, set[str]] = {}
        for meeting in draft.facts.layout.meetings:
            one, other = meeting.one.piece, meeting.other.piece
            self.near.setdefault(one, set()).add(other)
            self.near.setdefault(other, set()).add(one)
            if meeting.name:
                self.joints[meeting.name] = {one, other}
        self.before, self.before_quickly = self._keys(), self._quick_keys()

    def all(self, kinds: list[str]) -> None:
        large = self.draft.text.count("\n") > MOST_JOINED
        for kind in kinds:
            if kind == "gap" and large:
                continue
            for group in self._groups(kind):
                self._without(group)

    def _keys(self) -> Keys:
        return _counted(self.told(self.draft))

    def _quick_keys(self) -> Keys:
        """The same of the quick rules alone."""
        quick = [one for one in askable() if one.name in QUICK]
        return _counted(as_written(self.draft.facts.in_trial(), rules=quick))

    def _new(self) -> Keys:
        """What is found that was not found with the lines that were taken out."""
        return self._quick_keys() - self.before_quickly or self._keys() - self.before

    def _groups(self, kind: str) -> Iterator[list[WrittenLine]]:
        """The lines of a kind in few groups, those of each far from one another."""
        groups: list[tuple[list[WrittenLine], set[str]]] = []
        for line in (one for one in self.draft.lines if one.kind == kind):
            own = self._pieces(line)
            around = self._around(own, APART.get(kind, USUALLY_APART))
            free = next((group for group in groups if group[1].isdisjoint(own)), None)
            if free is None:
                groups.append(([line], set(around)))
            else:
                free[0].append(line)
                free[1].update(around)
        return (lines for lines, _ in groups)

    def _pieces(self, line: WrittenLine) -> set[str]:
        """The pieces at which a line does something."""
        words = WORD.findall(line.text)
        own = {word for word in words if word in self.near}
        return own.union(*(self.joints.get(word, ()) for word in words)) or {line.about}

    def _around(self, names: set[str], joints: int) -> set[str]:
        for _ in range(joints):
            names = names.union(*(self.near.get(name, ()) for name in names))
        return names

    def _without(self, group: list[WrittenLine]) -> None:
        """Takes out what it can of a group; what is then missed at its own place stays."""
        self.left -= self.draft.text.count("\n")
        if self.left < 0 or self.budget.left < self.draft.dearest or not group:
            return
        kept, findings = self.draft.lines, self.draft.findings
        self.draft.put([one for one in kept if one not in group])
        new = self._new()
        if not new:
            return
        self.draft.put(kept)
        self.draft.findings = findings
        if len(group) == 1:
            return
        names = {name for _, own in new for name in own}
        missed = [one for one in group if not names.isdisjoint(self._pieces(one))]
        missed = missed or [one for one in group if not names.isdisjoint(self._around(self._pieces(one), 2))]
        rest = [one for one in group if one not in missed]
        singly = [[one] for one in missed] if group[0].kind in SINGLY and 1 < len(missed) <= MOST_SINGLY else []
        for part in [rest, *singly] if missed else (group[: len(group) // 2], group[len(group) // 2 :]):
            self._without(part)


def _counted(findings: Iterable[Finding]) -> Keys:
    """Findings by the rule and each name that they are about."""
    return Counter((one.rule, own) for one in findings for own in _names(one))


def _names(finding: Finding) -> list[tuple[str, ...]]:
    return [(name,) for name in finding.names] or [()]
