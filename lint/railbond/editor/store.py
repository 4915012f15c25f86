"""Every plan as it stands by now, with what has been worked out of it, until one of its files changes."""

from __future__ import annotations

from collections import defaultdict
from functools import cached_property

from railbond.circuit.effort import Budget
from railbond.circuit.facts import Facts
from railbond.dependents import roots
from railbond.doorway import OpenText, enter
from railbond.faces.live.changes import LastShown
from railbond.findings import Finding, Fix
from railbond.inspection import Inspection
from railbond.recalling import RecentInspections
from trackplan.gather import normal
from trackplan.span import Source

from .names import Scope, scope_of
from .texts import Texts


class TextsRead:
    """The texts that a plan has read, as they were then. It knows nothing of the plan, which so goes when nobody has it
    any more, with all that was worked out of it: while somebody types there is no time to look for waste."""

    def __init__(self, root: str, texts: Texts) -> None:
        self.root = root
        self._texts = texts
        self._asked: dict[str, str | None] = {}
        self._bounds = texts.bounds(root)
        self.settings = texts.settings(root)

    def open_text(self, path: str) -> str:
        """A file's text as the plan read it."""
        if path not in self._asked:
            try:
                self._bounds.require(path)
                self._asked[path] = self._texts.open_text(path)
            except OSError:
                self._asked[path] = None
                raise
        text = self._asked[path]
        if text is None:
            raise FileNotFoundError(path)
        return text

    def are_current(self) -> bool:
        """Whether every file still says what it said when the plan was read."""
        is_settled = self._texts.settings(self.root) is self.settings
        return is_settled and all(self._now(path) == text for path, text in self._asked.items())

    def _now(self, path: str) -> str | None:
        try:
            self._bounds.require(path)
            return self._texts.open_text(path)
        except OSError:
            return None


class OpenPlan:
    """One plan with what it includes. What is asked of it is worked out once."""

    def __init__(self, root: str, texts: Texts, recent: RecentInspections) -> None:
        self.root = root
        read = TextsRead(root, texts)
        self.open_text, self.is_current, self.settings = read.open_text, read.are_current, read.settings
        self.opened = enter(root, self.open_text, settings=self.settings, recent=recent)
        self.gathered = self.opened.gathered
        self._proven: dict[Finding, tuple[Fix, ...]] = {}

    def source(self, path: str) -> Source:
        """A file's text; that of a meet's module too."""
        reading = self.gathered.readings.get(path)
        return reading.source if reading else self.opened.sources[path]

    @property
    def is_meet(self) -> bool:
        """Whether the plan couples others."""
        return self.opened.is_meet

    @property
    def facts(self) -> Facts:
        """The facts of the plan, or of a meet as one."""
        return self.opened.facts

    @property
    def inspection(self) -> Inspection:
        """What the rules find; in a meet, in its modules and in the whole."""
        return self.opened.inspection

    @cached_property
    def scope(self) -> Scope:
        return scope_of(self.gathered)

    def fixes(self, finding: Finding, budget: Budget | None = None) -> tuple[Fix, ...]:
        """A finding's fixes, tried on the plan in memory when first asked for, within a budget; those of a meet have
        been already."""
        if self.is_meet:
            return finding.fixes
        if finding in self._proven:
            return self._proven[finding]
        from railbond.mend.proving import BUDGET, proven

        whole = self.inspection
        only = whole._replace(after={finding: whole.after.get(finding, ())})
        steps = BUDGET if budget is None else budget.left
        tried = proven(self.root, only, self.open_text, self.inspected, steps).findings
        fixes = tried[whole.findings.index(finding)].fixes
        if steps == BUDGET or not any(fix.proven == "untried" for fix in fixes):
            self._proven[finding] = fixes
        return fixes

    def inspected(self, root: str, open_text: OpenText, *, with_fixes: bool = True) -> Inspection:
        """A plan with other texts, and the settings of this one."""
        opened = enter(root, open_text, settings=self.settings)
        return opened.inspection if with_fixes else opened.told


class PlanStore:
    """All plans that somebody has asked for."""

    def __init__(self) -> None:
        self.texts = Texts()
        self._plans: dict[str, OpenPlan] = {}
        self._recent: defaultdict[str, RecentInspections] = defaultdict(RecentInspections)
        self.shown: defaultdict[str, LastShown] = defaultdict(LastShown)
        """What was last shown of each plan's railroad."""

    def plan(self, root: str) -> OpenPlan:
        """A plan as it stands by now. Raises OSError where its file cannot be read."""
        plan = self._plans.get(root)
        if plan is None or not plan.is_current():
            plan = self._plans[root] = OpenPlan(root, self.texts, self._recent[root])
        return plan

    def roots(self, path: str) -> list[str]:
        """The plans to inspect for the sake of a file: those that read it, or else the file itself."""
        return roots([path], self.texts.uses(path))

    def readers(self, path: str) -> list[OpenPlan]:
        """The plans that hold a file's statements, however many include it."""
        plans = [plan for root in self.roots(path) if (plan := self.readable(root)) is not None]
        found = [plan for plan in plans if path in plan.gathered.readings]
        if not found and (own := self.readable(path)):
            return [own]
        return found

    def readable(self, root: str) -> OpenPlan | None:
        """A plan, where its file can be read."""
        try:
            return self.plan(normal(root))
        except OSError:
            return None

    def keep(self, wanted: set[str]) -> None:
        """Lets go of all plans but the wanted ones."""
        for root in self._plans.keys() - wanted:
            self._plans.pop(root, None)
            self._recent.pop(root, None)
            self.shown.pop(root, None)
