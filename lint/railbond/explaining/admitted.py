"""Which slips may be behind findings where no metal is at fault."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence

from railbond.circuit.facts import Facts
from railbond.findings import Finding

WITHOUT_METAL = frozenset({"unit", "letter", "name"})
"""The slips that may be behind findings of which no metal is at fault, such as a voltage drop."""

MEANT_FOR_ANOTHER = {
    "reverser-shared": {"source", "terminal"},
    "frog-fed-from-elsewhere": {"contact", "wrong end"},
}
"""More of them, by rules whose findings are of wires that hang on the wrong supply and short nothing."""

WITHOUT_A_RUN = {"supply-unused": {"source"}}
"""More of them where the supply that is told of has no run of its own: that of another was meant for it."""

OF_SEVERAL = {"frog-fed-from-elsewhere": {"terminal"}}
"""More of them where several such are found: of two frogs that are wrong at once, the track between is."""


def without_metal(facts: Facts, found: Sequence[Finding]) -> frozenset[str]:
    """The kinds of slips to be tried, by what is found."""
    return WITHOUT_METAL.union(*_meant_for_another(facts, found))


def _meant_for_another(facts: Facts, found: Sequence[Finding]) -> Iterator[set[str]]:
    """The slips that put wires on another supply, by what is found of such."""
    begin = {run.source for run in facts.layout.runs}
    yield from (WITHOUT_A_RUN.get(one.rule, set()) for one in found if begin.isdisjoint(one.names[:1]))
    for rule, times in Counter(one.rule for one in found).items():
        yield MEANT_FOR_ANOTHER.get(rule, set())
        yield OF_SEVERAL.get(rule, set()) if times > 1 else set()
