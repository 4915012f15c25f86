"""A long plan with many faults: mended in the head, cause by cause, before it is proven as a whole.

To inspect such a plan costs more than all its mends: each short is told with all that follows from it, and each of
that with mends of its own. Here the rules are asked in their turn of the plan as it is by then, all that one of them
finds is mended at once, as a difference, and what that leaves is looked at next. No step may make anything electrical
worse that was looked at before it. Whether the text that comes of it is as good is for the inspection to say.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from typing import NamedTuple

from railbond.circuit.effort import Budget, sparing
from railbond.circuit.facts import Facts
from railbond.explaining.symptoms import beside_shorts
from railbond.findings import Finding, Fix
from railbond.inspection import POWER, accepting
from railbond.rules.asking import ask
from railbond.rules.rule import Askable

from .overlay import Attempted

A_LINE = 100.0
"""Steps of effort for each line; once they are taken no other mend is looked for."""

COMPARED = 5.0
"""Those for each line after which mends are compared no further than needed."""

Worth = Callable[[Finding], Finding | None]
"""A finding as its owner wants to hear of it; None of one that nobody does."""
Admitted = Callable[[Finding], list[Fix]]


class InTurn(NamedTuple):
    """Mends in the order in which they were made, and the facts of the plan with all of them."""

    jobs: list[Attempted]
    facts: Facts


def mended_in_turn(facts: Facts, rules: Iterable[Askable], admitted: Admitted, worth: Worth) -> InTurn:
    """The mends of whatever some rules find in a plan, those about the resistance of wires left out; notes are not
    worth one. `admitted` are the fixes of a finding that may be made."""
    asked = sorted((one for one in rules if 0 < one.turn < POWER.start), key=lambda one: (one.turn, one.name))
    size = len(facts.statements)
    with sparing(COMPARED * size):
        return _Bench(facts, asked, admitted, worth, Budget(A_LINE * size)).mended()


class _Bench:
    """A plan on which one mend after the other is made."""

    def __init__(
        self, facts: Facts, rules: Sequence[Askable], admitted: Admitted, worth: Worth, budget: Budget
    ) -> None:
        self.facts, self.rules, self.admitted, self.worth, self.budget = facts, rules, admitted, worth, budget
        self.jobs: list[Attempted] = []
        self.idle: set[str] = set()
        """Rules of whose findings nothing can be made."""
        self.refused: set[object] = set()
        self.asked: tuple[Askable, Facts, list[Finding]] | None = None
        """What a rule finds in the plan with the last mends: they are looked at before they are made."""

    def mended(self) -> InTurn:
        """All that can be made, the first rule first; after each step from the first on."""
        while self.budget.left > 0 and any(self._step(rule) for rule in self.rules if rule.name not in self.idle):
            pass
        return InTurn(self.jobs, self.facts)

    def _step(self, rule: Askable) -> bool:
        """Whether something that a rule finds could be mended."""
        found = self._found(rule, self.facts)
        open_ = [one for one in found if self.admitted(one) and _key(one) not in self.refused]
        if found and not open_:
            self.idle.add(rule.name)
        return bool(open_) and self._batch(rule, open_)

    def _found(self, rule: Askable, facts: Facts) -> list[Finding]:
        """What a rule finds that is worth a mend and nobody has accepted."""
        if not (self.asked and self.asked[0] is rule and self.asked[1] is facts):
            told = filter(None, map(self.worth, ask(rule, facts)))
            open_ = [one for one in told if one.level != "note" and not accepting(one, facts.layout.acceptances)]
            self.asked = rule, facts, open_
        return self.asked[2]

    def _batch(self, rule: Askable, found: list[Finding]) -> bool:
        """Makes the first fixes of all findings, or of half of them where that fails, down to a single one, of which
        all are tried."""
        if self._make(rule, [(one, self.admitted(one)[0]) for one in found]):
            return True
        if len(found) > 1:
            half = len(found) // 2
            return self._batch(rule, found[:half]) or self._batch(rule, found[half:])
        if any(self._make(rule, [(found[0], fix)]) for fix in self.admitted(found[0])[1:]):
            return True
        self.refused.add(_key(found[0]))
        return False

    def _make(self, rule: Askable, jobs: list[Attempted]) -> bool:
        if self.budget.left <= 0:
            return False
        made = frozenset(self.facts.made)
        edits = dict.fromkeys(edit for _, fix in jobs for edit in fix.edits if edit not in made)
        after = self.facts.tried(edits) if edits else None
        if after is None or not self._is_better(rule, jobs, after):
            return False
        self.jobs += jobs
        self.facts = after
        return True

    def _is_better(self, rule: Askable, jobs: list[Attempted], after: Facts) -> bool:
        """Whether what was to be cured is, and the first that is wrong in more places or fewer is so in fewer."""
        if is_worse(after, self.facts):
            return False
        cured = {_key(finding) for finding, _ in jobs}
        return not any(_key(one) in cured for one in self._found(rule, after))


def is_worse(after: Facts, before: Facts) -> bool:
    """Whether of all that may be wrong with the metal, in the order in which causes are told, the first that differs is
    wrong in more places: what comes later may have been hidden by what came before it."""
    for count in WRONG:
        now, then = count(after), count(before)
        if now != then:
            return now > then
    return False


def _clashing(name: str) -> Callable[[Facts], int]:
    """How many rails clash so. One part of metal may be two once it is cut: the rails are the same."""

    def count(facts: Facts) -> int:
        parts = {clash.conductor for clash in getattr(facts, name)}
        component = facts.proof.component
        return sum(component[rail] in parts for rail in facts.graph.rails) if parts else 0

    return count


WRONG: tuple[Callable[[Facts], int], ...] = (
    lambda facts: len(facts.layout.faults),
    _clashing("aliens"),
    _clashing("minglings"),
    lambda facts: len(facts.turning.forest.odd),
    _clashing("shorts"),
    lambda facts: beside_shorts(facts).opposed,
    lambda facts: beside_shorts(facts).dead,
)


def _key(finding: Finding) -> tuple[object, ...]:
    """How a finding is known again: its places are those of the text as it is."""
    return finding.rule, finding.at, finding.names[:1]
