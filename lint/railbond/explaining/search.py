"""The fewest slips that explain everything that is wrong with a plan, the likeliest first among equally few.

A slip explains what is found if, with it undone, none of that is found any more and nothing new is. One slip is
looked for first: it must touch the path of every fault, so only what touches one path is tried. Where none explains
all, slips are undone one after the other, each time the one that leaves the least, until nothing is left. Work is
bounded in lines read, and so the same everywhere.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from itertools import islice
from math import inf

from railbond.circuit.effort import Budget, ration
from railbond.circuit.facts import Facts
from railbond.circuit.keeping import keep
from railbond.findings import LEVELS, Finding
from trackplan.record import NamedTuple

from .admitted import without_metal
from .catalog import EVERY, proposed, slips
from .conflicts import Conflict, conflicts, reasons
from .idle import idle_cuts
from .practice import LIKELY
from .slip import Ask, HandSlip
from .standing import Legs, Standing
from .symptoms import Symptoms, beside_shorts, symptoms
from .verdict import IDLE, Verdict

NOT_BY_SLIPS = ("acceptance-without-reason", "acceptance-unused", "not-proven", "syntax")
"""Rules whose findings no slip of the hand in a statement explains."""

EFFORT = 14_000.0
"""Steps that the search may take: about a second's work. A plan of 200 lines has room for some 80 slips."""

LEAST, BEYOND = 2_000.0, 2_000.0
"""Steps that it may take whatever was taken before, and how many beyond those that there are for a better answer."""

MOST_TRIED = 150
"""Slips that are tried, however short the plan."""

MOST_ASKED = 8
"""Slips that leave nothing electrical and of which all rules are asked."""

ENOUGH = 2
"""Slips that explain all: no more are looked for."""

MOST_CONFLICTS = 3
"""Faults whose slips are tried, one after the other, until one explains all."""

MOST_SLIPS = 3
"""Slips at once."""

SHARE = 6.0
"""What a slip that leaves all that is wrong is behind one that leaves nothing, where neither leaves nothing to tell."""

MUCH_LESS = 1.0
"""Weights below the likeliest slip's at which another is not worth telling."""


class Explained(NamedTuple):
    """Findings, the likeliest slip that explains them all, other slips that do, too, and what is only found once it is
    undone."""

    slip: HandSlip
    findings: tuple[Finding, ...]
    others: tuple[HandSlip, ...] = ()
    then: tuple[Finding, ...] = ()


class Explanation(NamedTuple):
    """The slips, and what is left to tell once they are undone."""

    slips: list[Explained]
    left: list[Finding]


def key(finding: Finding) -> tuple[object, ...]:
    """How a finding is known again in a plan that was changed in the head: places are those of the text as it is."""
    return finding.rule, finding.at, finding.names[:1]


def explain(facts: Facts, found: Sequence[Finding], ask: Ask) -> Explanation:
    """Slips that together explain what is found, so that nothing electrical is left."""
    return _Search(ask).explain(facts, list(found))


class _Search:
    def __init__(self, ask: Ask) -> None:
        self.ask = ask
        self.budget, self.tries, self.asks = Budget(min(EFFORT, max(LEAST, ration() + BEYOND))), MOST_TRIED, MOST_ASKED
        self.half, self.of_wires = self.budget.left / 2, False
        self.floor, self.clean = -inf, set[object]()

    def explain(self, facts: Facts, found: list[Finding]) -> Explanation:
        told: list[Explained] = []
        left, wrong = list[Finding](), not symptoms(facts).none
        while _explainable(found) and len(told) < MOST_SLIPS:
            ranked = self.best(facts, _explainable(found))
            if not ranked:
                break
            best = ranked[0]
            gone = {key(one) for one in found} - {key(one) for one in best.now}
            own = tuple(one for one in found if key(one) in gone)
            if not own:  # of two findings of one key one is left
                break
            told.append(Explained(best.slip, own, _as_good(ranked), best.new))
            facts, found = best.facts, [one for one in found if key(one) not in gone]
            left = best.now
        if wrong and not symptoms(facts).none:
            return Explanation([], found)
        return Explanation(told, left)

    def best(self, facts: Facts, found: list[Finding]) -> list[Verdict]:
        """The slips that leave the least, that first which leaves less than others or is likelier."""
        before, seen, self.floor = symptoms(facts), set[object](), -inf
        most = before.faults - before.is_on_paper
        self.of_wires = before.none  # what is found may be of wires' resistance alone
        whole: list[tuple[HandSlip, Facts]] = []
        partial: list[tuple[Symptoms, HandSlip, Facts]] = []
        standing = Standing(facts)
        for pool, legs in self._pools(facts, found, before):
            for slip, revised in self._tried(standing, legs, pool, seen):
                if len(revised.layout.faults) > most:
                    pass  # it takes none of what is wrong away, or brings more, whatever it does to the metal
                elif symptoms(revised).none:
                    whole.append((slip, revised))
                    self.floor = max(self.floor, self._floor(slip, revised, found))
                elif (less := beside_shorts(revised)).is_less(beside_shorts(facts)):
                    partial.append((less, slip, revised))
                if not whole and self._is_hopeless(before, partial):
                    return []
            if whole and max(slip.weight for slip, _ in whole) > LIKELY["listed"].weight:
                if verdicts := self._sound(whole, found):
                    return verdicts
                whole = []
        partial.sort(key=lambda one: SHARE * sum(one[0]) / (sum(before) or 1) - one[1].weight)
        return self._sound(whole, found) or self._sound([one[1:] for one in partial[:ENOUGH]], found)

    def _is_hopeless(self, before: Symptoms, partial: list[tuple[Symptoms, HandSlip, Facts]]) -> bool:
        """Whether half of what there is was spent and no slip has yet taken its share of what is wrong: what is left of
        such a plan is more than slips explain, and nothing is told of slips that leave something."""
        share = sum(before) * (1 - 1 / MOST_SLIPS)
        return self.budget.left < self.half and all(sum(now) > share for now, _, _ in partial)

    def _pools(self, facts: Facts, found: list[Finding], before: Symptoms) -> Iterator[tuple[list[HandSlip], Legs]]:
        """What is to be tried, one after the other: the slips of each conflict, and the legs that it joins, then what
        the rules propose; where no metal is at fault, only slips that change none."""
        kinds = without_metal(facts, found) if before.none else EVERY
        for conflict in islice(self._conflicts(facts, found, before), MOST_CONFLICTS):
            yield slips(facts, conflict, kinds, units=before.none or before.faults > 0), conflict.legs
        if not before.none:
            yield list(proposed(found)), None

    def _conflicts(self, facts: Facts, found: list[Finding], before: Symptoms) -> Iterable[Conflict]:
        if before.faults:
            return reasons(facts, [one for one in found if one.happens == "on paper"])
        return reasons(facts, found) if before.none else conflicts(facts)

    def _tried(
        self, standing: Standing, legs: Legs, tried: list[HandSlip], seen: set[object]
    ) -> Iterator[tuple[HandSlip, Facts]]:
        """Slips undone, each once, as far as the budget goes; but for those with which what they are to explain still
        stands, as can be told at once."""
        for slip in tried:
            if slip.edits in seen or slip.weight <= self.floor:
                continue
            seen.add(slip.edits)
            if self.tries <= 0 or self.budget.left <= 0:
                return
            self.tries -= 1
            revised = standing.facts.tried(slip.edits)
            if revised is not None and not standing.stands(legs, revised):
                yield slip, revised

    def _floor(self, slip: HandSlip, revised: Facts, found: list[Finding]) -> float:
        """The weight up to which no other slip would be told, whatever it leaves, beside one that leaves nothing."""
        if not self.asks > 0 > self.floor or self._left(revised.in_trial(), found, power=True):
            return -inf
        verdict = self._verdict(slip, revised, found, power=True)
        if verdict is None or verdict.new:
            return -inf
        self.clean.add(slip.edits)
        return slip.weight - IDLE * idle_cuts(revised) - MUCH_LESS

    def _sound(self, tried: list[tuple[HandSlip, Facts]], found: list[Finding]) -> list[Verdict]:
        """Those of the slips that bring nothing, the best first; that one by every rule."""
        ranked = sorted(self._verdicts(tried, found), key=lambda one: one.order)
        for place, one in enumerate(ranked):
            last = self._verdict(one.slip, one.facts, found, power=True, told=True)
            if last:
                return [last, *ranked[place + 1 :]]
        return []

    def _verdicts(self, tried: list[tuple[HandSlip, Facts]], found: list[Finding]) -> Iterator[Verdict]:
        """The rules asked about slips undone, those first that are known to leave nothing, and then the likeliest,
        until enough of them do."""
        enough = 0
        for slip, revised in sorted(tried, key=lambda one: (one[0].edits not in self.clean, -one[0].weight)):
            if self.asks <= 0 or enough >= ENOUGH:
                return
            self.asks -= 1
            verdict = self._verdict(slip, revised, found, power=self.of_wires)
            if verdict:
                enough += not verdict.left and not verdict.new
                yield verdict

    def _verdict(
        self, slip: HandSlip, revised: Facts, found: list[Finding], power: bool, told: bool = False
    ) -> Verdict | None:
        """What is left with a slip undone; None where that takes nothing away, or brings something as bad. Mends are
        looked for only where what is left is `told`."""
        if told:
            keep(revised)
        asked = revised if told else revised.in_trial()
        if len(self._left(asked, found, power)) == len(found):
            return None
        now = self.ask(asked, power)
        known = {key(one) for one in found}
        bad = _explainable(now)
        left = [one for one in bad if key(one) in known]
        new = tuple(one for one in bad if key(one) not in known)
        gone = {key(one) for one in left}
        cured = max((LEVELS.index(one.level) for one in found if key(one) not in gone), default=0)
        worse = any(LEVELS.index(one.level) >= cured for one in new)
        return None if worse else Verdict(slip, revised, now, left, new)

    def _left(self, revised: Facts, found: list[Finding], power: bool) -> list[Finding]:
        """What is left of what is found with a slip undone, as the rules tell that have found it."""
        known = {key(one) for one in found}
        now = self.ask(revised, power, {one.rule for one in found})
        return [one for one in _explainable(now) if key(one) in known]


def _explainable(found: list[Finding]) -> list[Finding]:
    return [one for one in found if one.level != "note" and one.rule not in NOT_BY_SLIPS]


def _as_good(ranked: list[Verdict]) -> tuple[HandSlip, ...]:
    """The other slips that leave as little as the best."""
    best = ranked[0]
    likely = (one for one in ranked[1:ENOUGH] if one.slip.weight > best.slip.weight - MUCH_LESS)
    return tuple(one.slip for one in likely if len(one.left) == len(best.left))
