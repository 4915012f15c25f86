"""A meet inspected on texts in memory, so that its mends pass the same trial as those of any plan."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Sequence

from railbond.findings import Finding
from railbond.inspection import Edits, Inspection, as_written, examined, inspect
from railbond.rules import askable
from railbond.rules.rule import Askable
from trackplan.gather import GatheredPlan
from trackplan.statements import AnyOrder, Couple, Module

from .disagreeing import disagreements
from .meet_facts import MeetFacts
from .reading import GatherPlan, Meet, OpenText, read_meet

JUDGED_ALONE = ("acceptance-unused", "acceptance-without-reason", "endplate-crossed", "syntax")
"""Rules about a module by itself, which the whole says nothing new of."""


def rules_of_the_whole() -> list[Askable]:
    return [rule for rule in askable() if rule.name not in JUDGED_ALONE]


def together(whole: MeetFacts, alone: Iterable[Finding]) -> dict[Finding, Edits]:
    """What only the whole has, once what its modules have alone is mended in the head; each with those mends. First
    the edges that do not fit, and with these put right, all else."""
    alone = list(alone)
    known = {(one.rule, one.at) for one in alone}
    rules = rules_of_the_whole()
    between, rest = disagreements(_mended(whole, alone), lambda facts: as_written(facts, rules, power=False))
    found = dict.fromkeys((one.finding for one in between), ()) | examined(rest, rules)
    return {one: made for one, made in found.items() if (one.rule, one.at) not in known}


class TrialMeet:
    """Inspects a meet anew after an edit, with the couplings that granted its wishes. Modules whose texts are as they
    were are taken as they were found."""

    def __init__(
        self, meet: Meet, alone: dict[str, Inspection], couples: Sequence[Sequence[Couple]], gather_plan: GatherPlan
    ) -> None:
        """`alone` holds what each module plan has by itself, by its path; `couples` those of each wish in turn."""
        self.meet, self.alone, self.couples, self.gather_plan = meet, alone, couples, gather_plan

    def __call__(self, root: str, open_text: OpenText, /, *, with_fixes: bool = True) -> Inspection:
        gathered = self.gather_plan(root, open_text)
        meet = read_meet(gathered, open_text, self._gathered).without(self._left_out(gathered))
        plans = {one.root: one for one in meet.modules.values()}
        alone = {path: self._inspected(path, plan) for path, plan in plans.items()}
        own = [one for inspection in alone.values() for one in inspection.findings]
        after = together(MeetFacts(meet, self._coupled(gathered)), own)
        after = dict.fromkeys(own, ()) | after
        return Inspection(meet.sources, list(after), after)

    def _gathered(self, path: str, open_text: OpenText) -> GatheredPlan:
        for plan in self.meet.modules.values():
            if plan.root == path and all(open_text(one) == source.text for one, source in plan.sources.items()):
                return plan
        return self.gather_plan(path, open_text)

    def _inspected(self, path: str, plan: GatheredPlan) -> Inspection:
        same = any(plan is one for one in self.meet.modules.values())
        return self.alone[path] if same else inspect(plan)

    def _left_out(self, gathered: GatheredPlan) -> set[str]:
        """Modules that were left out on the day, as those that the edit could bring back."""
        return {str(one.name) for one in gathered.statements if isinstance(one, Module)} - self.meet.modules.keys()

    def _coupled(self, gathered: GatheredPlan) -> list[Couple]:
        wishes = [one for one in gathered.statements if isinstance(one, AnyOrder)]
        pairs = zip(wishes, self.couples, strict=False)
        return [couple._replace(at=wish.at) for wish, couples in pairs for couple in couples]


def _mended(whole: MeetFacts, findings: Collection[Finding]) -> MeetFacts:
    """The whole with each module's own faults mended as far as their first mends fit together; a note is no fault."""
    fixes = [one.fixes[0].edits for one in findings if one.fixes and one.level != "note"]
    try:
        return whole.revised(edit for edits in dict.fromkeys(fixes) for edit in edits)
    except ValueError:
        return _one_by_one(whole, fixes)


def _one_by_one(whole: MeetFacts, fixes: Sequence[Edits]) -> MeetFacts:
    for edits in dict.fromkeys(fixes):
        try:
            whole = whole.revised(edits)
        except ValueError:
            continue
    return whole
