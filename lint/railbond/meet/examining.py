"""A meet inspected: every module alone, and then the whole, in which what is wrong with a module alone is mended."""

from __future__ import annotations

from collections.abc import Mapping
from typing import NamedTuple

from railbond.files import reopening
from railbond.findings import Finding
from railbond.inspection import Inspection, Remark, examined, inspect, remarks
from railbond.mend.proving import proven as prove
from trackplan.edit import Edit
from trackplan.gather import GatheredPlan

from .meet_facts import MeetFacts
from .proving import proven, rules_of_the_whole
from .reading import Meet
from .wishes import Answer, grant


class Told(NamedTuple):
    """A finding, the module that must see to it (empty: the meet), and whether the module has it alone."""

    finding: Finding
    module: str
    alone: bool


class Outcome(NamedTuple):
    """What a meet's inspection found, by module and place; the facts of the whole, and how its wishes fare."""

    meet: Meet
    told: list[Told]
    whole: MeetFacts
    answers: list[Answer]
    remarks: tuple[Remark, ...]

    @property
    def findings(self) -> list[Finding]:
        return list(dict.fromkeys(one.finding for one in self.told))

    @property
    def inspection(self) -> Inspection:
        """The same as the inspection of one plan."""
        return Inspection(self.meet.sources, self.findings, dict.fromkeys(self.findings, ()), self.remarks)

    @property
    def placed(self) -> list[Finding]:
        """The findings once each, those of a module alone by the names that its parts have in the meet."""
        found: dict[Finding, Finding] = {}
        for one in self.told:
            names = tuple(f"{one.module}.{name}" for name in one.finding.names) if one.alone else one.finding.names
            found.setdefault(one.finding, one.finding._replace(names=names))
        return list(found.values())


def examine_meet(meet: Meet, alone: Mapping[str, Inspection] | None = None) -> Outcome:
    """Everything that is wrong with a meet. `alone` holds inspections of module plans that are at hand already."""
    known = dict(alone or {})
    for gathered in meet.modules.values():
        if gathered.root not in known:
            known[gathered.root] = inspect_alone(gathered)
    own = {name: known[gathered.root].findings for name, gathered in meet.modules.items()}
    answers = grant(meet, own)
    couples = [couple for answer in answers for couple in answer.couples]
    whole = MeetFacts(meet, couples)
    told = [Told(finding, name, True) for name, findings in own.items() for finding in findings]
    told += _together(meet, _mended(whole, [one.finding for one in told]), {_key(one.finding) for one in told})
    order = {name: place for place, name in enumerate(["", *meet.modules])}
    told.sort(key=lambda one: (order[one.module], one.finding.at, one.finding.rule))
    noted = [remark for gathered in meet.modules.values() for remark in known[gathered.root].remarks]
    noted += remarks(whole, meet.gathered.root)
    return Outcome(meet, told, whole, answers, tuple(dict.fromkeys(noted)))


def inspect_alone(gathered: GatheredPlan) -> Inspection:
    """A plan by itself, its mends proven on its own text."""
    return prove(gathered.root, inspect(gathered), reopening(gathered.sources))


def _together(meet: Meet, whole: MeetFacts, known: set[object]) -> list[Told]:
    """What only the whole has."""
    new = [one for one in examined(whole, rules_of_the_whole()) if _key(one) not in known]
    found = [Told(one, meet.module_of(one.at.path, one.names), False) for one in proven(whole, new)]
    broken = [
        Told(Finding("syntax", "error", "on paper", one.at, one.message), "", False)
        for one in (*meet.gathered.broken, *meet.broken)
    ]
    fresh = {_key(one.finding): one for one in (*broken, *found) if _key(one.finding) not in known}
    return list(fresh.values())


def _key(finding: Finding) -> object:
    return finding.rule, finding.at


def _mended(whole: MeetFacts, findings: list[Finding]) -> MeetFacts:
    """The whole with each module's own faults mended as far as their first mends fit together."""
    fixes = [one.fixes[0].edits for one in findings if one.fixes]
    try:
        return whole.revised(edit for edits in dict.fromkeys(fixes) for edit in edits)
    except ValueError:
        return _one_by_one(whole, fixes)


def _one_by_one(whole: MeetFacts, fixes: list[tuple[Edit, ...]]) -> MeetFacts:
    for edits in dict.fromkeys(fixes):
        try:
            whole = whole.revised(edits)
        except ValueError:
            continue
    return whole
