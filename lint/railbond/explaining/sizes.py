"""The numbers that other lines of the same kind have at the place of one: gone through once a plan, not once a line."""

from __future__ import annotations

from collections import Counter

from railbond.circuit.by_kind import of_kind
from railbond.circuit.facts import Facts
from railbond.circuit.keeping import once
from trackplan.quantities import Quantity
from trackplan.statements import Statement

Told = tuple[type, float, str]
"""A kind of quantity, the number in SI units, and as it is typed."""


def sizes_of_others(facts: Facts, statement: Statement, part: Quantity) -> list[float]:
    """The numbers above 0 that other lines have at this place, each once: where they are about the same, it is the one
    of another line that is wrong."""
    return [size for kind, size, _ in _of_others(facts, statement, part) if issubclass(kind, type(part)) and size > 0]


def texts_of_others(facts: Facts, statement: Statement, part: Quantity) -> Counter[str]:
    """How often other lines have which text at this place, in the order of the lines."""
    found = Counter[str]()
    for (_, _, text), times in _of_others(facts, statement, part).items():
        found[text] += times
    return found


def _of_others(facts: Facts, statement: Statement, part: Quantity) -> Counter[Told]:
    field = next((name for name, value in zip(statement._fields, statement, strict=True) if value is part), None)
    if field is None:
        return Counter()
    known, key = _known(facts), (type(statement), field)
    if key not in known:
        told = ((one.at, getattr(one, field)) for one in of_kind(facts, type(statement)))
        lines = ((at, type(value), float(value), value.text) for at, value in told if isinstance(value, Quantity))
        known[key] = Counter((kind, size, text) for _, kind, size, text in dict.fromkeys(lines))
    found = known[key].copy()
    found.subtract([(type(part), float(part), part.text)])
    return +found


@once
def _known(facts: Facts) -> dict[tuple[type, str], Counter[Told]]:
    """Those that were asked for, by the kind of line and the part of it."""
    return {}
