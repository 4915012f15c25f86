"""A meet inspected: every module alone, and then the whole, in which what is wrong with a module alone is mended."""

from __future__ import annotations

from collections.abc import Mapping
from math import inf
from typing import NamedTuple

from railbond.circuit.effort import spent
from railbond.files import reopening
from railbond.findings import Finding, Fix
from railbond.inspection import Inspection, Remark, inspect, remarks
from railbond.mend.proving import BUDGET, proven
from trackplan.edit import replace
from trackplan.gather import GatheredPlan, gather
from trackplan.statements import Broken, Couple

from .meet_facts import MeetFacts
from .misfit import is_between
from .promises import as_met
from .reading import GatherPlan, Meet
from .trying import Placed, TrialMeet, accepted_by, silenced_by, together
from .wishes import Answer, grant

TRIALS = 2 * BUDGET
"""Steps of effort for the mends of a whole, which is several plans and is put together anew for each trial."""

WHOLE, LEAST = 48_000.0, 12_000.0
"""Steps for a whole in all, what it took to examine it among them, as far as that leaves the least for trials."""


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


def examine_meet(
    meet: Meet,
    alone: Mapping[str, Inspection] | None = None,
    gather_plan: GatherPlan = gather,
    with_fixes: bool = True,
    trials: float = inf,
) -> Outcome:
    """Everything that is wrong with a meet. `alone` holds inspections of module plans that are at hand already;
    `gather_plan` reads a plan anew, for `trials` of the whole's mends, which may take so many steps at most: none if
    fewer than 0. Without `with_fixes` there are only those that are made in the head."""
    known = dict(alone or {})
    for gathered in meet.modules.values():
        if gathered.root not in known:
            known[gathered.root] = inspect_alone(gathered)
    own = {name: known[gathered.root].findings for name, gathered in meet.modules.items()}
    answers = grant(meet, own)
    couples = [couple for answer in answers for couple in answer.couples]
    whole = MeetFacts(meet, couples, with_fixes=with_fixes)
    alone_own = as_met(whole, ((name, finding) for name, findings in own.items() for finding in findings))
    accepted = accepted_by(whole)
    told = [Told(placed[1], placed[0], True) for placed in alone_own if not silenced_by(accepted, placed)]
    told += _broken(meet)
    try_on = TrialMeet(meet, known, [answer.couples for answer in answers], gather_plan)
    told += _together(whole, try_on, alone_own, min(trials, TRIALS) if with_fixes else -1)
    order = {name: place for place, name in enumerate(["", *meet.modules])}
    told.sort(key=lambda one: (order[one.module], one.finding.at, one.finding.rule))
    noted = [remark for gathered in meet.modules.values() for remark in known[gathered.root].remarks]
    noted += remarks(whole, meet.gathered.root)
    return Outcome(meet, told, whole, answers, tuple(dict.fromkeys(noted)))


def inspect_alone(gathered: GatheredPlan) -> Inspection:
    """A plan by itself, its mends proven on its own text."""
    return proven(gathered.root, inspect(gathered), reopening(gathered.sources))


def _broken(meet: Meet) -> list[Told]:
    """The meet's own lines that do not read, and modules that cannot be opened."""
    lines = dict.fromkeys((*meet.gathered.broken, *meet.broken))
    return [
        Told(Finding("syntax", "error", "on paper", one.at, one.message, fixes=_meant(one)), "", False) for one in lines
    ]


def _meant(broken: Broken) -> tuple[Fix, ...]:
    """What was probably to be written in a line that does not read."""
    if broken.meant is None:
        return ()
    return (Fix(f"write `{broken.meant}`", (replace(broken.at, broken.meant),), proven="alone"),)


def _together(whole: MeetFacts, try_on: TrialMeet, alone: list[Placed], budget: float) -> list[Told]:
    """What only the whole has, with its mends proven on the texts of the meet and its modules."""
    meet = whole.meet
    broken = [one.finding for one in _broken(meet)]
    before_it = spent()
    after = together(whole, alone, broken)
    budget = min(budget, max(LEAST, WHOLE - (spent() - before_it)))
    found = Inspection(meet.sources, list(after), after, known=(*(finding for _, finding in alone), *broken))
    tried = proven(meet.gathered.root, found, reopening(meet.sources), try_on, budget)
    return [Told(one, module, False) for one in tried.findings for module in _owners(meet, one)]


def _owners(meet: Meet, finding: Finding) -> tuple[str, ...]:
    """Whose a finding of the whole is: of what is wrong between two modules, that of both."""
    for couple in meet.gathered.statements:
        if isinstance(couple, Couple) and couple.at == finding.at and is_between(couple, finding):
            words = (str(word).partition(".")[0] for word in (couple.one, couple.other))
            return tuple(dict.fromkeys(name if name in meet.modules else "" for name in words))
    return (meet.module_of(finding.at.path, finding.names),)
