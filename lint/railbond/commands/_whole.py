"""Inspects whatever plan it is given: a meet is looked at module by module and as one."""

from __future__ import annotations

from collections.abc import Callable

from railbond.inspection import Inspection, inspect
from trackplan.gather import gather
from trackplan.statements import Module


def inspect_whole(root: str, open_text: Callable[[str], str]) -> Inspection:
    """A plan with what it includes; a meet with its modules too. Raises OSError where the plan cannot be opened."""
    gathered = gather(root, open_text)
    if not any(isinstance(one, Module) for one in gathered.statements):
        return inspect(gathered)
    from railbond.meet.examining import examine_meet
    from railbond.meet.reading import read_meet

    meet = read_meet(gathered, open_text)
    findings = examine_meet(meet).findings
    return Inspection(meet.sources, findings, dict.fromkeys(findings, ()))
