"""A meet inspected on texts in memory, so that its mends pass the same trial as those of any plan."""

from __future__ import annotations

from collections.abc import Collection, Container, Iterable, Sequence

from railbond.circuit.effort import sparing
from railbond.findings import Finding
from railbond.inspection import A_LINE, LAST, PLENTY, Edits, Inspection, accepting, as_written, examined, idle, inspect
from railbond.rules import askable
from railbond.rules.rule import Askable
from trackplan.gather import GatheredPlan
from trackplan.statements import Accept, AnyOrder, Couple, Module

from .disagreeing import disagreements
from .meet_facts import MeetFacts
from .promises import as_met
from .reading import GatherPlan, Meet, OpenText, read_meet

ABOUT_ACCEPTANCES = ("acceptance-unused", "acceptance-without-reason")
JUDGED_ALONE = (*ABOUT_ACCEPTANCES, "endplate-crossed", "syntax")
"""Rules about a module by itself, which the whole says nothing new of."""


def rules_of_the_whole() -> list[Askable]:
    return [rule for rule in askable() if rule.name not in JUDGED_ALONE]


Placed = tuple[str, Finding]
"""A module, and what it has alone."""


def silenced_by(accepted: Iterable[Accept], placed: Placed) -> list[Accept]:
    """Those of a meet's acceptances that silence what a module has alone."""
    module, finding = placed
    return accepting(finding._replace(names=tuple(f"{module}.{name}" for name in finding.names)), accepted)


def accepted_by(whole: MeetFacts) -> list[Accept]:
    """What the meet's own plan accepts."""
    return [one for one in whole.layout.acceptances if one.at.path in whole.meet.gathered.readings]


def together(whole: MeetFacts, alone: Sequence[Placed], broken: Sequence[Finding] = ()) -> dict[Finding, Edits]:
    """What only the whole has, once what its modules have alone is mended in the head; each with those mends. First
    the edges that do not fit, and with these put right, all else. `broken` are findings of lines that do not read.
    Where that takes long, mends are compared no further than needed, as of a plan."""
    with sparing(PLENTY + A_LINE * len(whole.statements), LAST):
        return _together(whole, [*(finding for _, finding in alone), *broken], alone)


def _together(whole: MeetFacts, own: Sequence[Finding], alone: Sequence[Placed]) -> dict[Finding, Edits]:
    known, rules = {(one.rule, one.at) for one in own}, rules_of_the_whole()
    between, rest = disagreements(_mended(whole, own), lambda facts: as_written(facts, False, rules=rules))
    accepted = accepted_by(whole)
    silencing = {one.finding: accepting(one.finding, accepted) for one in between}
    found: dict[Finding, Edits] = dict.fromkeys((one for one, by in silencing.items() if not by), ())
    found |= examined(rest, rules=[*rules, *_rules_of_acceptances()])
    in_use = {idle(one) for placed in alone for one in silenced_by(accepted, placed)}
    in_use |= {idle(one) for by in silencing.values() for one in by}
    new = {one: made for one, made in found.items() if (one.rule, one.at) not in known}
    return {one: made for one, made in new.items() if _is_told(one, whole, in_use)}


def _is_told(finding: Finding, whole: MeetFacts, in_use: Container[tuple[object, ...]]) -> bool:
    """Whether a finding is none of an acceptance of a module, which the module was told of, or of one in use."""
    if finding.rule not in ABOUT_ACCEPTANCES:
        return True
    mine = finding.at.path in whole.meet.gathered.readings
    return mine and (finding.rule, finding.at, finding.names) not in in_use


def _rules_of_acceptances() -> list[Askable]:
    return [rule for rule in askable() if rule.name in ABOUT_ACCEPTANCES]


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
        whole = MeetFacts(meet, self._coupled(gathered), with_fixes=with_fixes)
        own = as_met(whole, ((name, one) for name, plan in meet.modules.items() for one in alone[plan.root].findings))
        accepted = accepted_by(whole)
        told = dict.fromkeys((placed[1] for placed in own if not silenced_by(accepted, placed)), ())
        after = told | together(whole, own)
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
    return whole.tried(edit for edits in dict.fromkeys(fixes) for edit in edits) or _one_by_one(whole, fixes)


def _one_by_one(whole: MeetFacts, fixes: Sequence[Edits]) -> MeetFacts:
    for edits in dict.fromkeys(fixes):
        whole = whole.tried(edits) or whole
    return whole
