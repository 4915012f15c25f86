"""One plan for a command that asks about the layout as it is."""

from __future__ import annotations

import sys

from railbond.circuit.facts import Facts
from railbond.files import Files
from trackplan.gather import GatheredPlan, gather


def facts_of(path: str) -> Facts | None:
    """The facts of a plan with all that it includes; None, and a word on standard error, where it cannot be read.

    Lines that do not read are told there too: what they say is missing from every answer.
    """
    files = Files()
    try:
        gathered = gather(path, files.open_text)
    except OSError as error:
        files.trouble(path, error)
        gathered = None
    for trouble in files.troubles:
        print(f"railbond: {trouble}", file=sys.stderr)
    if gathered is None or files.troubles:
        return None
    facts = _facts(gathered, files)
    wrong = len(facts.broken) + len(facts.layout.faults)
    if wrong:
        print(f"railbond: {path}: {wrong} faults of the plan stand in the way: see `railbond inspect`", file=sys.stderr)
    return facts


def _facts(gathered: GatheredPlan, files: Files) -> Facts:
    """The facts of a plan, or of a meet's modules coupled as its wishes are granted."""
    from railbond.meet.reading import is_meet, read_meet

    if not is_meet(gathered):
        return Facts(gathered.statements, gathered.sources, gathered.broken)
    from railbond.meet.meet_facts import MeetFacts
    from trackplan.statements import AnyOrder

    meet = read_meet(gathered, files.open_text)
    if not any(isinstance(one, AnyOrder) for one in gathered.statements):
        return MeetFacts(meet)
    from railbond.meet.examining import examine_meet

    return examine_meet(meet).whole


def tell_shorts(facts: Facts, path: str) -> None:
    """Says so where the plan itself has shorts: a layout that is built to it cannot be right."""
    if facts.shorts:
        print(f"railbond: {path}: the plan itself has shorts: see `railbond inspect`", file=sys.stderr)


def title_of(facts: Facts, path: str) -> str:
    """The plan's own title, or its path."""
    from trackplan.statements import Plan

    return next((str(one.title) for one in facts.statements if isinstance(one, Plan)), path)
