"""From what was seen to what is wrong: the single and double mistakes that explain it, the likeliest first."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations, islice
from typing import NamedTuple

from railbond.circuit.facts import Facts

from .continuity import Continuity
from .mistake import Mistake, together
from .mistakes import mistakes
from .observation import Observation
from .prediction import Prediction
from .test_points import TestPoints

NOTHING = Mistake("none", "nothing is wrong with the wiring that these mistakes could explain")
MISREAD = 0.002
"""How often a reading is taken or written down wrongly: a judgement."""
SECOND = 0.02
"""How much less likely two mistakes are than one: a judgement."""
POOL = 150
MOST_PAIRS = 12_000
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
        self.singles = [one for one in mistakes(facts.wiring) if one.lost or one.made]
        self.metal, self.points = Continuity(facts.graph, self.singles), TestPoints(facts)
        self.prediction = Prediction(facts, self.metal)

    def causes(self, observed: list[Observation], doubles: bool = False) -> list[Cause]:
        """Explanations by weight. Pairs are tried where no single mistake fits, or where `doubles` asks for them."""
        found = [self._cause(NOTHING, observed, SECOND)]
        found += [self._cause(one, observed, 1.0) for one in self.singles]
        if observed and (doubles or all(one.misses for one in found)):
            found += self._pairs(observed)
        total = sum(one.weight for one in found)
        return sorted((one._replace(weight=one.weight / total) for one in found), key=lambda one: -one.weight)

    def _cause(self, mistake: Mistake, observed: list[Observation], prior: float) -> Cause:
        misses = sum(self.prediction.answer(mistake, one) != one.answer for one in observed)
        return Cause(mistake, misses, prior * MISREAD**misses)

    def _pairs(self, observed: list[Observation]) -> list[Cause]:
        """Pairs of mistakes that fit everything."""
        pairs = islice(self._likely_pairs(observed), MOST_PAIRS)
        causes = (self._cause(together(one, other), observed, SECOND) for one, other in pairs)
        return [one for one in causes if not one.misses]

    def _likely_pairs(self, observed: list[Observation]) -> Iterator[tuple[Mistake, Mistake]]:
        """First pairs one of which changes some answer, the best fitting first, with partners near what was seen
        first; then pairs that take wires of the same metal away, which may change an answer only together."""
        fits = {one: self._fits(one, observed) for one in self.singles}
        plan = self._fits(NOTHING, observed)
        movers = sorted((one for one in self.singles if fits[one] != plan), key=lambda one: -sum(fits[one]))[:POOL]
        done = set()
        near = self._near(observed)
        partners = sorted(self.singles, key=lambda one: near.isdisjoint(self._atoms(one)))
        for mover in movers:
            done.add(mover)
            yield from ((mover, other) for other in partners if other not in done)
        for metal in self._redundant().values():
            yield from combinations(metal, 2)

    def _fits(self, mistake: Mistake, observed: list[Observation]) -> list[bool]:
        return [self.prediction.answer(mistake, one) == one.answer for one in observed]

    def _near(self, observed: list[Observation]) -> set[int]:
        """The atoms that observations touched, and those a few bonds away."""
        found = {self.metal.atom[end] for one in observed for end in (*one.ends, *one.route)}
        for _ in range(REACH):
            found |= {there for here in found for _, there, _ in self.metal.ties.get(here, ())}
        return found

    def _atoms(self, mistake: Mistake) -> set[int]:
        bonds = [*(self.metal.graph.bonds[number] for number in mistake.lost), *mistake.made]
        return {self.metal.atom[end] for bond in bonds for end in (bond.one, bond.other)}

    def _redundant(self) -> dict[int, list[Mistake]]:
        """The mistakes that only take something away, by each atom that they take it from."""
        found: dict[int, list[Mistake]] = {}
        for mistake in self.singles:
            for atom in self._atoms(mistake) if not mistake.made else ():
                found.setdefault(atom, []).append(mistake)
        return found


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
