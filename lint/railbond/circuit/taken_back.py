"""Plans that were changed in the head to what they were before somebody typed at them."""

from __future__ import annotations

from trackplan.amend import parts_of
from trackplan.statements import Statement

from .facts import Facts
from .keeping import once
from .of_graph import befores


@once
def said_before(facts: Facts) -> Facts | None:
    """Of a plan that was changed in the head: the facts of the plan before somebody typed at it, where that says at the
    same places what this one says; so what was typed is taken back in the head. None where there are none such."""
    if not facts.made:
        return None
    return next((one for one in befores(facts) if not one.made and _says_the_same(one, facts)), None)


def _says_the_same(known: Facts, facts: Facts) -> bool:
    if len(known.statements) != len(facts.statements) or known.broken or facts.broken:
        return False
    pairs = zip(known.statements, facts.statements, strict=True)
    return all(one is other or _says(one) == _says(other) for one, other in pairs)


def _says(statement: Statement) -> object:
    """All that it says, and where, its numbers as they are written."""
    return type(statement), statement, [getattr(part, "text", part) for part in parts_of(tuple(statement[1:]))]
