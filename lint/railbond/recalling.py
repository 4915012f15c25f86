"""What was found in a plan a moment ago, kept by what the plan says.

Most keystrokes change nothing that the plan says: they type a comment, a blank, half a line, or take back what was
typed before. What was found then is so still, at places that have moved. Whatever cannot be told so is inspected anew.

Two plans say the same where the same lines were read, one by one, in every file, and where the broken lines keep the
layout from telling the same: `silencing`; where more is found than these, only where nothing stands in for them. Of
what is found, `syntax` alone is about the broken lines, and is asked again.
"""

from __future__ import annotations

import re
from bisect import bisect_right
from collections.abc import Callable, Iterable, Mapping
from operator import is_
from typing import TYPE_CHECKING, Any

from railbond.circuit.facts import Facts
from railbond.findings import Finding
from railbond.inspection import Inspection
from railbond.layout.build import build
from railbond.rules import askable
from railbond.rules.asking import ask
from railbond.trackwork import expand, template_for
from trackplan.amend import parts_of
from trackplan.edit import Edit
from trackplan.span import Span, Word
from trackplan.statements import Accept, Couple

if TYPE_CHECKING:
    from trackplan.gather import GatheredPlan
    from trackplan.read import Reading

MOST_KEPT = 3
"""Plans of which it is known what was found in them: what is typed now, and what stood there before."""
OF_THE_TEXT = frozenset({"syntax", "number-in-comment"})
"""The rules that look at more than what the statements say."""
_NUMBER = re.compile(r"#\d")


class CannotTell(Exception):
    """What was found before says nothing certain of the plan as it is now."""


class RecentInspections:
    """The last few inspections of one plan."""

    def __init__(self) -> None:
        self.kept: list[tuple[GatheredPlan, Inspection, frozenset[str] | None]] = []

    def of(self, gathered: GatheredPlan, anew: Callable[[GatheredPlan], Inspection]) -> Inspection:
        """What is found in a plan: as it was found before, where that can be told, else worked out anew."""
        for known in list(self.kept):
            try:
                found = _recalled(gathered, *known)
            except CannotTell:
                continue
            self.kept.remove(known)
            return self._keep(gathered, found, known[2])
        return self._keep(gathered, anew(gathered), silencing(gathered))

    def _keep(self, gathered: GatheredPlan, found: Inspection, words: frozenset[str] | None) -> Inspection:
        self.kept = [(gathered, found, words), *self.kept][:MOST_KEPT]
        return found


def silencing(gathered: GatheredPlan) -> frozenset[str] | None:
    """The words of broken lines that may keep the layout from telling a fault, or from coupling; None where it has none
    to tell, whatever the broken lines say."""
    if not gathered.broken:
        return frozenset()
    statements = gathered.statements
    is_coupled = any(isinstance(one, Couple) for one in statements)
    if not is_coupled and not build(statements, template_for, expand=expand).faults:
        return None
    words = Facts(statements, gathered.sources, gathered.broken).broken_words
    known = {owner for one in statements for word in parts_of(one) if isinstance(word, Word) for owner in _owners(word)}
    return frozenset(word for word in words if not known.isdisjoint(_owners(word))) | (words & {"reverser"})


def _owners(word: str) -> Iterable[str]:
    while word:
        yield str(word)
        word = word.rpartition(".")[0]


def _recalled(
    gathered: GatheredPlan, before: GatheredPlan, found: Inspection, words: frozenset[str] | None
) -> Inspection:
    """What was found before, at its places of now. Raises CannotTell."""
    if list(before.readings) != list(gathered.readings) or bool(before.broken) != bool(gathered.broken):
        raise CannotTell
    moves = Moves({path: FileMoves(before.readings[path], one) for path, one in gathered.readings.items()})
    if any(isinstance(one, Accept) and one.rule in OF_THE_TEXT for one in gathered.statements):
        raise CannotTell
    if gathered.broken and words is not None and words != silencing(gathered):
        raise CannotTell
    if not gathered.broken and any(one.level != "note" for one in found.findings):
        _same_words(before, gathered)
    if gathered.broken and any(one.rule != "syntax" and one.level != "note" for one in found.known):
        if all(before.readings[path].source.text == one.source.text for path, one in gathered.readings.items()):
            return found._replace(sources=dict(gathered.sources))
        _without_stand_ins(before, gathered)
    after = dict(moves.all(found.after.items(), gathered))
    known = tuple(one for one, _ in moves.all(((one, ()) for one in found.known), gathered))
    findings = sorted(after, key=lambda one: (one.at, one.rule))
    return Inspection(dict(gathered.sources), findings, after, found.remarks, known)


def _same_words(before: GatheredPlan, gathered: GatheredPlan) -> None:
    """Raises CannotTell where the texts do not use the same units, comments and all: by these it is told which of them
    may be a slip of the pen."""
    from railbond.explaining.words import units_used

    for path, reading in gathered.readings.items():
        if units_used(before.readings[path].source.text) != units_used(reading.source.text):
            raise CannotTell


def _without_stand_ins(*plans: GatheredPlan) -> None:
    """Raises CannotTell where another statement stands in for a line that could not be read."""
    from railbond.explaining.unread import stand_ins

    if any(stand_ins(Facts(plan.statements, plan.sources, plan.broken)) for plan in plans):
        raise CannotTell


def _syntax(gathered: GatheredPlan) -> list[Finding]:
    """What is told of the broken lines."""
    if not gathered.broken:
        return []
    facts = Facts(gathered.statements, gathered.sources, gathered.broken)
    return [one for rule in askable() if rule.name == "syntax" for one in ask(rule, facts)]


class FileMoves:
    """Where everything in a file is now that was elsewhere before."""

    def __init__(self, before: Reading, after: Reading) -> None:
        self.text, self.now = before.source.text, after.source.text
        self.is_same = self.text == self.now and (bool(before.lines) or before.statements == after.statements)
        self.starts, self.ends, self.shifts = list[int](), list[int](), list[int]()
        if self.is_same:
            return
        if not len(before.lines) == len(after.lines) == len(before.statements) == len(after.statements):
            raise CannotTell
        if not all(map(is_, before.lines, after.lines)):
            raise CannotTell
        self.starts = [one.at.start for one in before.statements]
        self.ends = [one.at.end for one in before.statements]
        self.shifts = [one.at.start - start for one, start in zip(after.statements, self.starts, strict=True)]
        self._check_comments()

    def _check_comments(self) -> None:
        """Raises CannotTell where a number in a comment behind a statement may have been meant for it."""
        for place, end in enumerate(self.ends):
            if not self._is_gap_same(place):
                for text, at in ((self.text, end), (self.now, end + self.shifts[place])):
                    if _NUMBER.search(text, at, _line_end(text, at)):
                        raise CannotTell

    def _is_gap_same(self, place: int) -> bool:
        """Whether what stands between a statement and the next is as it was."""
        start, shift = self.ends[place], self.shifts[place]
        if place + 1 == len(self.starts):
            return self.text[start:] == self.now[start + shift :]
        stop = self.starts[place + 1]
        return shift == self.shifts[place + 1] and self.text[start:stop] == self.now[start + shift : stop + shift]

    def span(self, at: Span, adds: bool = False) -> Span:
        """Where a stretch is now, or one that `adds` a line behind it. Raises CannotTell where something else was typed
        in it, or beside a line that is added there, than statements: where such a line lies hangs on what is around."""
        if self.is_same or at.end == 0:
            return at
        first, last = (bisect_right(self.starts, offset) - 1 for offset in (at.start, at.end))
        if first < 0:
            raise CannotTell
        begins = at.start == at.end == self.starts[first]
        around = range(max(first - begins, 0), last + (adds or begins or at.end > self.ends[last]))
        if not all(map(self._is_gap_same, around)):
            raise CannotTell
        return at._replace(start=at.start + self.shifts[first], end=at.end + self.shifts[first])


def _line_end(text: str, at: int) -> int:
    end = text.find("\n", at)
    return len(text) if end < 0 else end


class Moves:
    """Where everything in a plan is now."""

    def __init__(self, files: Mapping[str, FileMoves]) -> None:
        self.files = files

    def all(self, told: Iterable[tuple[Finding, Any]], gathered: GatheredPlan) -> Iterable[tuple[Finding, Any]]:
        """Findings as they are told now, with the mends made before them; of those of broken lines all that there are
        now, in the place of the first."""
        syntax: list[Finding] | None = None
        for finding, made in told:
            if finding.rule != "syntax":
                yield self.moved(finding), self.moved(made)
            elif syntax is None:
                syntax = _syntax(gathered)
                yield from ((one, ()) for one in syntax)

    def moved(self, value: Any) -> Any:
        """Whatever is told, with every place in it where it is now."""
        if isinstance(value, Span):
            return self.files[value.path].span(value)
        if isinstance(value, Edit) and value.line:
            return value._replace(at=self.files[value.at.path].span(value.at, adds=True))
        if not isinstance(value, tuple):
            return value
        parts: Any = [self.moved(one) for one in value]
        kind: Any = type(value)
        return kind(*parts) if hasattr(value, "_fields") else kind(parts)
