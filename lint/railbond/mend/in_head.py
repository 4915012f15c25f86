"""A mend tried as a difference: what it does not change is known already, and the plan is not read again."""

from __future__ import annotations

from collections.abc import Sequence

from railbond.circuit import keeping
from railbond.circuit.facts import Facts
from trackplan.edit import Edit
from trackplan.statements import Include


def tried(facts: Facts, edits: Sequence[Edit]) -> Facts | None:
    """The facts of a plan with edits made; None where they leave a line that does not read, or lead to other files, or
    where lines are broken already: what these may mean hangs on the whole text."""
    if facts.broken:
        return None
    made = keeping.tried(facts.in_trial(), edits)
    return made if made and _includes(made) == _includes(facts) else None


def _includes(facts: Facts) -> list[Include]:
    return [one for one in facts.statements if isinstance(one, Include)]
