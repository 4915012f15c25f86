"""From what was seen to what is wrong: the single and double mistakes that explain it, the likeliest first."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import combinations, islice
from typing import NamedTuple

from railbond.circuit.facts import Facts

from .continuity import Continuity
from .likelihood import often
from .mistake import Mistake, together
from .mistakes import mistakes
from .observation import Observation
from .prediction import NOTHING, Prediction
from .removable import OFF, Screws
from .test_points import TestPoints

MISREAD = 0.002
"""How often a reading is taken or written down wrongly: a judgment."""
SECOND = 0.02
"""How much less likely two mistakes are than one: a judgment."""
MOST_PAIRS = 3_000
REACH = 2


class Cause(NamedTuple):
    """An explanation: one mistake or two, how many observations it does not fit, and its weight among all."""

    mistake: Mistake
    misses: int
    weight: float


class Diagnosis:
    """All mistakes of a plan, held against observations."""

    def __init__(self, facts: Facts) -> None:
        self.facts = facts
        self.screws = Screws(facts.wiring)
        told = (one for one in mistakes(facts.wiring) if one.lost or one.made)
        self.singles = [self.screws.as_hands_make_it(one) for one in told]
        taken = {f"{OFF}{name}": one.numbers for name, one in self.screws.removable.items()}
        self.metal, self.points = Continuity(self.screws.graph, self.singles, taken), TestPoints(facts, self.screws)
        self.prediction = Prediction(facts, self.metal)
        self._answers: dict[tuple[object, ...], dict[tuple[object, ...], bool]] = {}
        self._last: tuple[Observation, dict[tuple[object, ...], bool]] | None = None

    def causes(self, observed: list[Observation], doubles: bool = False) -> list[Cause]:
        """Explanations by weight. Where some fit, one observation that another does not fit is as good as all. Pairs
        are tried where no single mistake fits, or where `doubles` asks for them."""
        every = [NOTHING, *self.singles]
        fitting = self._fitting(every, observed)
        found = [Cause(one, int(id(one) not in fitting), often(one.kind)) for one in every]
        found = [one._replace(weight=one.weight * MISREAD**one.misses) for one in found]
        if not fitting:
            found = [self._cause(one, observed) for one in every]
        if observed and (doubles or all(one.misses for one in found)):
            found += self._pairs(observed)
        total = sum(one.weight for one in found)
        return sorted((one._replace(weight=one.weight / total) for one in found), key=lambda one: -one.weight)

    def _fitting(self, mistakes: list[Mistake], observed: list[Observation]) -> set[int]:
        """The mistakes that explain everything, by their ids; each observation is asked of those that are left."""
        for one in reversed(observed):
            mistakes = [mistake for mistake in mistakes if self.answer(mistake, one) == one.answer]
        return {id(mistake) for mistake in mistakes}

    def _cause(self, mistake: Mistake, observed: list[Observation], prior: float = 1.0, most: int = 0) -> Cause:
        """An explanation with the observations that it misses; `most`: counted up to so many."""
        misses = 0
        for one in reversed(observed):
            misses += self.answer(mistake, one) != one.answer
            if most and misses == most:
                break
        return Cause(mistake, misses, prior * often(mistake.kind) * MISREAD**misses)

    def answer(self, mistake: Mistake, asked: Observation) -> bool:
        """What would be seen, worked out once."""
        if self._last is None or self._last[0] is not asked:
            self._last = asked, self._answers.setdefault(asked.question, {})
        known, key = self._last[1], (mistake.lost, mistake.made)
        if key not in known:
            known[key] = self.prediction.answer(mistake, asked)
        return known[key]

    def nearly(self, observed: list[Observation]) -> list[Mistake]:
        """The mistakes that explain all but one observation, the likeliest first."""
        found = [one for one in (NOTHING, *self.singles) if self._cause(one, observed, most=2).misses == 1]
        return sorted(found, key=lambda one: -often(one.kind))

    def _pairs(self, observed: list[Observation]) -> list[Cause]:
        """Pairs of mistakes that fit everything."""
        pairs = islice(self._likely_pairs(observed), MOST_PAIRS)
        causes = (self._cause(together(one, other), observed, SECOND * weight, most=1) for one, other, weight in pairs)
        return [one for one in causes if not one.misses]

    def _likely_pairs(self, observed: list[Observation]) -> Iterator[tuple[Mistake, Mistake, float]]:
        """First pairs that together change just the answers that are not the plan's; then pairs that take metal away
        from the same place, which may change an answer only together; then those of which one goes too far."""
        wrong = self._changed(NOTHING, observed, against=None)
        masks: dict[int, list[Mistake]] = {}
        for one in self.singles:
            masks.setdefault(self._changed(one, observed, against=NOTHING), []).append(one)
        kinds = sorted(masks, key=lambda mask: (mask ^ wrong).bit_count())
        fitting = [pair for pair in combinations(kinds, 2) if pair[0] | pair[1] == wrong and all(pair)]
        yield from _weighed((one, other) for a, b in fitting for one in masks[a] for other in masks[b])
        yield from _weighed(pair for metal in self._redundant(observed).values() for pair in combinations(metal, 2))
        near = [mask for mask in kinds if mask and mask & wrong]
        over = [pair for pair in combinations(near, 2) if (pair[0] | pair[1]) & wrong == wrong and pair not in fitting]
        yield from _weighed((one, other) for a, b in over for one in masks[a] for other in masks[b])
        yield from _weighed(pair for mask in near for pair in combinations(masks[mask], 2))

    def _changed(self, mistake: Mistake, observed: list[Observation], against: Mistake | None) -> int:
        """The observations, as bits, whose answers a mistake would change from the plan's, or from those seen."""
        bits = 0
        for number, one in enumerate(observed):
            other = one.answer if against is None else self.answer(against, one)
            bits |= (self.answer(mistake, one) != other) << number
        return bits

    def _near(self, observed: list[Observation]) -> set[int]:
        """The atoms that observations touched, and those a few bonds away."""
        touched = {end for one in observed for end in (*(one.ends if one.ends[0] != one.ends[1] else ()), *one.route)}
        found = {self.metal.atom[end] for end in touched}
        for _ in range(REACH):
            found |= {there for here in found for _, there, _ in self.metal.ties.get(here, ())}
        return found

    def _redundant(self, observed: list[Observation]) -> dict[int, list[Mistake]]:
        """The mistakes near what was seen that only take something away, by each atom that they take it from."""
        found: dict[int, list[Mistake]] = {}
        near = self._near(observed)
        for mistake in self.singles:
            bonds = [self.metal.graph.bonds[number] for number in mistake.lost] if not mistake.made else []
            for atom in {self.metal.atom[end] for bond in bonds for end in (bond.one, bond.other)} & near:
                found.setdefault(atom, []).append(mistake)
        return found


def _weighed(pairs: Iterable[tuple[Mistake, Mistake]]) -> Iterator[tuple[Mistake, Mistake, float]]:
    for one, other in pairs:
        if one is not other:
            yield one, other, often(one.kind) * often(other.kind) / 64


def contradictions(observed: list[Observation]) -> list[tuple[Observation, tuple[Observation, ...]]]:
    """Observations that cannot all be so, whatever is wrong: each with those that it contradicts."""
    found = []
    for index, one in enumerate(observed):
        same = tuple(other for other in observed[:index] if other.question == one.question)
        same = tuple(other for other in same if other.answer != one.answer)
        if same:
            found.append((one, same))
        elif one.kind == "beeps" and not one.answer and (chain := _chain(one, observed)):
            found.append((one, chain))
    return found


def _chain(silent: Observation, observed: list[Observation]) -> tuple[Observation, ...]:
    """The beeps that lead, in the same setting, from one end of a silent probe to its other."""
    beeps = [one for one in observed if one.kind == "beeps" and one.answer and one.stand == silent.stand]
    came: dict[int, tuple[Observation, ...]] = {silent.ends[0]: ()}
    queue = [silent.ends[0]]
    for here in queue:
        for one in beeps:
            if here in one.ends:
                there = one.ends[1] if here == one.ends[0] else one.ends[0]
                if there not in came:
                    came[there] = (*came[here], one)
                    queue.append(there)
    return came.get(silent.ends[1], ())
