"""The last look: what the inspection still finds is added, and what is not needed is taken out again."""

from __future__ import annotations

import re
from collections import Counter

from railbond.circuit.effort import Budget, sparing, spent
from railbond.doorway import enter
from railbond.findings import LEVELS, Finding, Fix
from railbond.inspection import A_LINE, LAST, PLENTY, Edits, examined
from railbond.rules import askable
from trackplan.read import read
from trackplan.span import Source
from trackplan.statements import Statement

from .draft import Draft, WrittenLine
from .thinning import BUDGET, ORDER, thinned
from .wishes import WiringWishes

ROUNDS = 12
MOST_ADDED = 12
"""Mends of what is left that are tried."""
STEPS, A_STATEMENT = 12_000.0, 30.0
"""Steps of effort, and so many more for each statement, after which no further mend is looked for."""
MENDS = 2.0
"""Looks that it takes to find mends and to try one."""
JUDGMENTS = ("accept", "limit", "train", "engine")
"""What only the owner can say."""
NAME = re.compile(r"[\w-]+")
CURED_NOTES = frozenset({"feeders-too-far-apart"})
"""The notes for whose sake lines are added."""


def found(draft: Draft) -> list[Finding]:
    """What the inspection tells of a plan at warning or above."""
    return [one for one in told(draft) if one.level != "note"]


def told(draft: Draft) -> list[Finding]:
    """All findings of a plan with its lines, without mends: those take long to work out."""
    if draft.findings is None:
        before = spent()
        draft.findings = enter(draft.root, draft.opened).told.findings
        draft.dearest = max(draft.dearest, spent() - before)
    return draft.findings


def mends(draft: Draft) -> dict[Finding, Edits]:
    """All findings with their mends, and the mends made in the head before each."""
    with sparing(PLENTY + A_LINE * len(draft.facts.statements), LAST):
        return examined(draft.facts, rules=askable())


def settled(draft: Draft, wishes: WiringWishes, whole: Budget) -> None:
    """Adds what is still missing, as far as it can be added without a change of the plan's own lines; then takes out
    what makes no difference. Of what there is for the `whole` work, a look that no more would fit into is not had."""
    trials = min(BUDGET // max(draft.text.count("\n"), 1), MOST_ADDED)
    told(draft)
    budget = Budget(min(STEPS + A_STATEMENT * len(draft.facts.statements), whole.left))
    if budget.left > MENDS * draft.dearest:  # else one look takes more than all may, and no second one is had
        for _ in range(ROUNDS):
            trials = _added(draft, wishes, trials) if budget.left > MENDS * draft.dearest else 0
            if not trials:
                break
        thinned(draft, told, ORDER if wishes.drops == "by-distance" else ORDER[:2], whole.left)
    without_idle_runs(draft)


def without_idle_runs(draft: Draft) -> None:
    """Takes out new bus runs to terminals from which nothing goes on, the last ones of a row first."""
    while True:
        used = Counter(word for one in read(Source(draft.root, draft.text)).statements for word in _words(draft, one))
        idle = [one for one in draft.lines if one.kind == "bus" and used[one.about] < 2]
        if not idle:
            return
        draft.put([one for one in draft.lines if one not in idle])


def _words(draft: Draft, statement: Statement) -> list[str]:
    return NAME.findall(draft.text[statement.at.start : statement.at.end])


def may_write(line: str, wishes: WiringWishes) -> bool:
    """Whether a line asks for no more work at a turnout than may be done."""
    words = line.split()
    if words[0] not in ("cut", "bond"):
        return words[0] not in JUDGMENTS
    return wishes.rebuild == "cuts" or (wishes.rebuild == "bonds" and "around" not in words)


def _weight(findings: list[Finding]) -> tuple[int, ...]:
    return tuple(sum(one.level == level for one in findings) for level in reversed(LEVELS))


def _added(draft: Draft, wishes: WiringWishes, trials: int) -> int:
    """Adds the lines of the first mend that leaves less to find; how many trials are then left, none where nothing was
    added."""
    if not any(_may_be_cured(draft, one) for one in told(draft)):
        return 0
    kept, before = list(draft.lines), _weight(told(draft))
    curable = [one for one in mends(draft) if _may_be_cured(draft, one)]
    for finding in curable:
        for fix in finding.fixes:
            lines = _with_fix(draft, finding, fix, wishes)
            if lines:
                draft.put(lines)
                trials -= 1
                if _weight(told(draft)) < before:
                    return max(trials, 0)
                draft.put(kept)
                if trials <= 0:
                    return 0
    return 0


def _may_be_cured(draft: Draft, finding: Finding) -> bool:
    """Whether more lines may be of use against a finding: against points set against a train they are at live frogs."""
    if finding.rule == "set-against":
        pieces = draft.facts.layout.pieces
        return any(pieces[name].template.shape.build == "live-frog" for name in finding.names if name in pieces)
    return finding.level != "note" or finding.rule in CURED_NOTES


def _with_fix(draft: Draft, finding: Finding, fix: Fix, wishes: WiringWishes) -> list[WrittenLine]:
    """The new lines with a mend made: lines added, and rails added to new cuts; none where the mend would change a line
    of the user's or asks for more work than may be done."""
    source, lines = Source(draft.root, draft.text), list(draft.lines)
    about = next(iter(finding.names), "")
    for edit in fix.edits:
        if edit.line and may_write(edit.text, wishes):
            lines += [WrittenLine(line, finding.message, about) for line in edit.text.splitlines()]
            continue
        number = source.line_of(edit.at.start)
        text, start = source.line_text(number), source.starts[number]
        own = next(
            (place for place, one in enumerate(lines) if one.kind == "gap" and one.text.split() == text.split()), None
        )
        if edit.line or own is None or edit.at.path != source.path or edit.at.end > start + len(text):
            return []
        changed = text[: edit.at.start - start] + edit.text + text[edit.at.end - start :]
        lines[own : own + 1] = (
            [WrittenLine(" ".join(changed.split()), finding.message, about)] if changed.strip() else []
        )
    return lines if fix.edits else []
