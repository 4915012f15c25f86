"""The cheapest copper that is enough: thicker runs, more drops, or more boosters, each tried as a whole."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from railbond.circuit.signed_graph import Part
from railbond.fixes.feeding import feed
from railbond.rules.unfed_rail import unfed_rails

from .bus_runs import BusTerminal
from .dividing import divided
from .draft import Draft, WrittenLine
from .drops import fewest_pairs, new_drops
from .enough_copper import ENOUGH, strain
from .power_up import more_boosters
from .reversing import reversing_sections
from .soldering import BEYOND, CARRIES, TRIALS, CopperTrial, solder, terminals_of
from .tables import bridges
from .territory import idle, territory
from .turnout_work import fed_frogs
from .wishes import WiringWishes, costs_of

BOOSTERS = (0, 1, 3, 7, 15, 31)
"""How many more boosters are tried: each step halves the shares of track."""
HALVED = 0.7
"""What is left of the resistance of the longest way when its track is shared out among twice as many boosters."""


class _Prepared(NamedTuple):
    """A plan with its supplies and cuts, before any copper."""

    lines: list[WrittenLine]
    owners: dict[Part, str]
    pairs: int
    terminals: dict[float, list[BusTerminal]]
    """From where drops come, by the share of the spacing limit, as far as that was asked."""


def with_copper(draft: Draft, wishes: WiringWishes) -> int:
    """Writes sections, cuts and all copper; tells how many pairs of drops the track asks for at least, wherever it is
    cut."""
    return _CopperSearch(draft, wishes).all()


class _CopperSearch:
    def __init__(self, draft: Draft, wishes: WiringWishes) -> None:
        self.draft, self.wishes, self.start = draft, wishes, list(draft.lines)
        self.prepared: dict[int, _Prepared] = {}
        self.strains: dict[int, float] = {}
        """For each number of boosters how far the thinnest copper is strained."""

    def all(self) -> int:
        first = self._try(0, TRIALS[0])
        best = self.draft.lines
        if self.strains[0] > ENOUGH:
            for boosters, trial in self._others():
                if self._may_do(boosters, trial) and self._try(boosters, trial):
                    best = self.draft.lines
                    first = self.prepared[boosters].pairs
                    break
        self.draft.put(best)
        return first

    def _others(self) -> list[tuple[int, CopperTrial]]:
        """What else may be tried, the cheapest first."""
        costs = costs_of(self.draft.facts.layout)
        terminals = self.prepared[0].terminals[1.0]
        pairs, meters = sum(len(one.drops) for one in terminals), sum(one.length for one in terminals)

        def price(one: tuple[int, CopperTrial]) -> float:
            boosters, trial = one
            more = (1 / trial.share - 1) * pairs * 2 * costs.drop
            more += boosters * (costs.booster + costs.breaker + 2 * costs.cut)
            return more + BEYOND[trial.bus] * meters * costs.copper + (trial.bus + trial.drop) / 100

        counts = BOOSTERS if more_boosters(self.draft.facts, 1) else (0,)
        found = [(boosters, trial) for boosters in counts for trial in TRIALS if boosters or trial != TRIALS[0]]
        return sorted(found, key=price)

    def _may_do(self, boosters: int, trial: CopperTrial) -> bool:
        """Whether there is hope: as much as the thickest run of a trial carries more than the thinnest."""
        known = max(one for one in self.strains if one <= boosters)
        steps = BOOSTERS.index(boosters) - BOOSTERS.index(known)
        hoped = self.strains[known] * HALVED**steps
        return hoped <= (CARRIES[-1] if trial.share < 1 else CARRIES[trial.bus])

    def _try(self, boosters: int, trial: CopperTrial) -> int:
        """Writes all of a trial; the pairs that are needed at least where its copper is enough, else nothing."""
        if boosters not in self.prepared:
            self.prepared[boosters] = self._prepare(boosters)
        lines, owners, pairs, found = self.prepared[boosters]
        self.draft.put(lines)
        if trial.share not in found:
            facts = self.draft.facts
            found[trial.share] = terminals_of(facts, new_drops(facts, self.wishes, owners, trial.share))
        solder(self.draft, self.wishes, owners, trial, found[trial.share])
        self._rest(owners)
        strained = strain(self.draft.facts)
        if trial == TRIALS[0]:
            self.strains[boosters] = strained
        return pairs if strained <= ENOUGH else 0

    def _prepare(self, boosters: int) -> _Prepared:
        draft = self.draft
        draft.put(self.start)
        if boosters:
            draft.write(*more_boosters(draft.facts, boosters))
        pairs, waiting = fewest_pairs(draft.facts), len(idle(draft.facts))
        sections = reversing_sections(draft, self.wishes.lengths)
        pairs = max(pairs, waiting + sum(line.kind == "reverser" for line in draft.lines))
        shares = divided(draft, sections)
        owners = territory(draft.facts, sections | shares)
        return _Prepared(list(draft.lines), owners, pairs, {})

    def _rest(self, owners: dict[Part, str]) -> None:
        """What follows the drops: bridges, single drops, and what feeds the frogs."""
        draft = self.draft
        draft.write(*bridges(draft.facts, owners))
        draft.write(*_leftovers(draft))
        draft.write(*fed_frogs(draft.facts, self.wishes, owners))


def _leftovers(draft: Draft) -> Iterator[WrittenLine]:
    """Single drops to what no pair reaches: the rails of pieces without plain track between them."""
    rails = unfed_rails(draft.facts)
    fix = feed(draft.facts, rails) if rails else None
    lines = [edit.text for edit in fix.edits if edit.line] if fix else []
    return (WrittenLine(text, "no pair of drops reaches this rail") for text in lines)
