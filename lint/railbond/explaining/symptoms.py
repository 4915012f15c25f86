"""How much is electrically wrong with a plan, counted cheaply: to see at once whether a slip undone makes it less."""

from __future__ import annotations

from railbond.circuit.facts import Facts
from railbond.circuit.keeping import once
from trackplan.record import NamedTuple

from .conflicts import dead_rails


class Symptoms(NamedTuple):
    """Counts of what is wrong: names that mean nothing, rails that are shorted, carry two supplies, analog and digital
    power, or none at all; passes from leg to leg; and joints at which left becomes right."""

    faults: int
    shorted: int
    mingled: int
    aliens: int
    opposed: int
    dead: int
    turns: int

    @property
    def none(self) -> bool:
        return not any(self)

    @property
    def is_on_paper(self) -> bool:
        """Whether names and numbers are wrong, and no metal."""
        return self.faults > 0 and not any(self[1:])

    def is_no_worse(self, than: Symptoms) -> bool:
        """Whether nothing is more wrong than before."""
        return all(now <= then for now, then in zip(self, than, strict=True))

    def is_less(self, than: Symptoms) -> bool:
        return self.is_no_worse(than) and self != than


@once
def symptoms(facts: Facts) -> Symptoms:
    """All of them counted."""
    return Symptoms(len(facts.layout.faults), *_electrical(facts))


def _electrical(facts: Facts) -> tuple[int, int, int, int, int, int]:
    component = facts.proof.component
    shorted = {clash.conductor for clash in facts.shorts}
    mingled = {clash.conductor for clash in facts.minglings}
    aliens = {clash.conductor for clash in facts.aliens}
    rails = [component[rail] for rail in facts.graph.rails]
    all_ = (shorted, mingled, aliens)
    counts = [sum(map(found.__contains__, rails)) + len(found) if found else 0 for found in all_]
    return counts[0], counts[1], counts[2], len(facts.opposed), len(dead_rails(facts)), len(facts.turning.forest.odd)


@once
def beside_shorts(facts: Facts) -> Symptoms:
    """The same without passes onto metal or from metal that is shorted as it is: of these nothing can be said, and a
    cut that is right may bring more of them while the short is there."""
    shorted = {clash.conductor for clash in facts.shorts}
    component = facts.proof.component
    opposed = sum(shorted.isdisjoint((component[roll.one], component[roll.other])) for roll, _ in facts.opposed)
    return symptoms(facts)._replace(opposed=opposed)
