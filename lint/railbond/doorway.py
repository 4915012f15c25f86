"""The one way in: a path, and how texts are opened, to the facts and the inspection of whatever stands there.

Whether a text is a plan or a meet is decided here and nowhere else, and so is what it means to inspect it. Commands,
the server, the gate, the batch and the pages all enter here. Pure: whoever calls says how a file is opened.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Mapping, Sequence
from functools import cached_property
from math import inf

from railbond.circuit.effort import spent
from railbond.circuit.facts import Facts
from railbond.circuit.keeping import drop_revisions, keep_revisions
from railbond.findings import Finding
from railbond.inspection import Inspection, inspect
from railbond.settings import ClubSettings
from trackplan.gather import GatheredPlan, Reader, gather
from trackplan.read import read
from trackplan.span import Source
from trackplan.statements import AnyOrder, Module
from trackplan.typed import TYPE_CHECKING

if TYPE_CHECKING:
    from railbond.meet.examining import Outcome
    from railbond.meet.reading import Meet
    from railbond.recalling import RecentInspections
    from trackplan.edit import Edit

OpenText = Callable[[str], str]
Alone = Mapping[str, Inspection] | None
NOBODYS = ClubSettings()


class Opened:
    """What stands at a path: a plan with what it includes, or a meet with its modules. Each answer is worked out when
    it is first asked for."""

    def __init__(
        self,
        root: str,
        open_text: OpenText,
        alone: Alone,
        without: Collection[str],
        settings: ClubSettings,
        recent: RecentInspections | None,
    ) -> None:
        self.root, self.settings = root, settings
        self.gathered: GatheredPlan = self._gather(root, open_text, recent.reader.read if recent else read)
        self.alone = alone
        """Inspections of a meet's module plans that are at hand already, by their paths."""
        self._open_text, self._without, self._recent = open_text, without, recent
        self.on_first: Callable[[], None] | None = None
        """Whom to call once the first findings are there, before what explains them is looked for."""
        self._first: list[Finding] | None = None
        self._proves = False
        self._seen: Inspection | None = None
        self.asked: Facts | None = None
        """The facts by which it is inspected; nobody else asks them anything before the first findings are there, so
        that what that takes hangs on nobody."""

    def _gather(self, root: str, open_text: OpenText, reader: Reader = read) -> GatheredPlan:
        """A plan with what it includes, and the limits of the club."""
        return self.settings.added_to(gather(root, open_text, reader))

    @cached_property
    def is_meet(self) -> bool:
        """Whether it is made of other plans."""
        return not {Module, AnyOrder}.isdisjoint(map(type, self.gathered.statements))

    @property
    def modules(self) -> list[Module]:
        """All modules that a meet names, those that are left out too."""
        return [one for one in self.gathered.statements if isinstance(one, Module)]

    @cached_property
    def meet(self) -> Meet:
        """A meet with its modules, read."""
        from railbond.meet.reading import read_meet

        return read_meet(self.gathered, self._open_text, self._gather).without(set(self._without))

    @property
    def sources(self) -> Mapping[str, Source]:
        """Every text that was read, by path."""
        return self.meet.sources if self.is_meet else self.gathered.sources

    @cached_property
    def facts(self) -> Facts:
        """The facts of a plan, or of a meet's modules coupled as its wishes are granted. Of a plan that is typed at
        their texts are steady ones (`steady`), of the same rows as its files."""
        if not self.is_meet:
            is_known = self._first is not None or "inspection" in self.__dict__
            return (is_known and self.asked) or self._own_facts()
        if any(isinstance(one, AnyOrder) for one in self.gathered.statements):
            return self._untried.whole
        from railbond.meet.meet_facts import MeetFacts

        return MeetFacts(self.meet)

    @cached_property
    def inspection(self) -> Inspection:
        """All that is found. No mend of a plan, or of a meet's module, has been tried yet."""
        if self.is_meet:
            return self._examined(self._modules).inspection
        if self._recent:
            return self.judged(self._recent.of(self.gathered, self._anew))
        return self.judged(self._anew(self.gathered, self._own_facts()))

    @property
    def untried(self) -> Inspection:
        """The same, and of a meet's whole no mend has been tried either."""
        return self._untried.inspection if self.is_meet else self.inspection

    @cached_property
    def _untried(self) -> Outcome:
        return self._examined(self._modules, trials=-1)

    def _own_facts(self) -> Facts:
        return Facts(self.gathered.statements, self.gathered.sources, self.gathered.broken)

    def _anew(self, gathered: GatheredPlan, facts: Facts) -> Inspection:
        self.asked = facts
        if self._proves:
            keep_revisions(facts)
        self._seen = inspect(gathered, first=self._take_first, facts=facts)
        return self._seen

    def _take_first(self, found: list[Finding]) -> None:
        inspection = self.judged(Inspection(dict(self.sources), sorted(found, key=lambda one: (one.at, one.rule))))
        self._first = inspection.findings
        if self.on_first:
            self.on_first()

    @property
    def unexplained(self) -> list[Finding] | None:
        """What is found in the plan as it is written, while what explains it is looked for; None before and after."""
        return None if "inspection" in self.__dict__ else self._first

    @property
    def _modules(self) -> dict[str, Inspection]:
        """What is found in a meet's modules, by their paths, no mend of it tried."""
        known = self.alone or {}
        return {one.root: known.get(one.root) or inspect(one) for one in self.meet.modules.values()}

    @cached_property
    def proven(self) -> Inspection:
        """The same with those mends that cure when they are tried, on the texts in memory."""
        if self.is_meet:
            return self.outcome.inspection
        before = spent()
        self._proves = True
        if not self.inspection.findings:
            return self.inspection
        from railbond.mend.proving import allowance, proven

        used = spent() - before
        how = self._again, allowance(used), used, self._in_head
        try:
            return proven(self.root, self.inspection, self._open_text, *how)
        finally:
            if self.asked:
                drop_revisions(self.asked)

    @property
    def so_far(self) -> Inspection | None:
        """What is known of a plan that was not inspected to its end: its findings, if those were had, with mends that
        nobody has tried."""
        if self.is_meet or (found := self.__dict__.get("inspection")) is None:
            return None
        from railbond.mend.proving import proven

        return proven(self.root, found, self._open_text, self._again, budget=-1)

    @property
    def told(self) -> Inspection:
        """All that is found, without those mends that take long to work out."""
        if self.is_meet:
            return self._examined(self._modules, with_fixes=False).inspection
        return self.judged(inspect(self.gathered, with_fixes=False))

    @property
    def acceptable(self) -> Inspection:
        """All that is found, by the names at which this plan or meet can accept it; no mend of a meet is tried."""
        if not self.is_meet:
            return self.inspection
        outcome = self._examined(self._modules, with_fixes=False)
        return outcome.inspection._replace(findings=outcome.placed)

    def _again(self, root: str, open_text: OpenText, *, with_fixes: bool = True) -> Inspection:
        opened = enter(root, open_text, settings=self.settings)
        return opened.inspection if with_fixes else opened.told

    def _in_head(self, edits: Sequence[Edit], notes: bool) -> Inspection | None:
        """What `told` would say with edits made, with notes or without; None where only the text can say it."""
        from railbond.mend.in_head import tried

        facts = tried(self.asked, edits) if self.asked and not self._recent else None
        return self.of(facts, notes or bool(self.settings.levels)) if facts else None

    def of(self, facts: Facts, notes: bool = True) -> Inspection:
        """What is found in the plan by facts that somebody knows of it; see `inspect`."""
        return self.judged(inspect(self.gathered, facts=facts, notes=notes))

    def judged(self, inspection: Inspection) -> Inspection:
        """The findings with the levels that the club gives them."""
        if not self.settings.levels:
            return inspection
        after = {one: made for told, made in inspection.after.items() if (one := self.settings.judged(told))}
        findings = [one for told in inspection.findings if (one := self.settings.judged(told))]
        return inspection._replace(findings=findings, after=after)

    @cached_property
    def outcome(self) -> Outcome:
        """What a meet's inspection found, module by module, with those mends that cure when they are tried."""
        return self._examined(self.alone)

    def _examined(self, alone: Alone, with_fixes: bool = True, trials: float = inf) -> Outcome:
        from railbond.meet.examining import examine_meet

        outcome = examine_meet(self.meet, alone, self._gather, with_fixes, trials)
        if not self.settings.levels:
            return outcome
        judged = ((one, self.settings.judged(one.finding)) for one in outcome.told)
        return outcome._replace(told=[one._replace(finding=finding) for one, finding in judged if finding])

    @property
    def placed(self) -> list[Finding]:
        """The findings by the names, and at the places, that `facts` knows: in a meet, those of a module behind the
        module's name, with mends that nobody has tried."""
        found = self.untried
        return self._untried.placed if self.is_meet else self.judged(self._seen or found).findings


def enter(
    root: str,
    open_text: OpenText,
    alone: Alone = None,
    without: Collection[str] = (),
    settings: ClubSettings = NOBODYS,
    recent: RecentInspections | None = None,
) -> Opened:
    """Opens whatever stands at a path. Raises OSError where it cannot be read; what it names in turn and cannot be had
    is a finding.

    `alone` holds inspections of a meet's module plans that are at hand already, by their paths; `without` names modules
    that are left out on the day; `settings` are those of the club; `recent` is what was found in the plan before.
    """
    return Opened(root, open_text, alone, without, settings, recent)
