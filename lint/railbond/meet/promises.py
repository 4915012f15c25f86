"""What a module has alone, as the meet shows it: an edge whose promise is wrong, and not its wires.

Alone, a module whose edge carries another leg than it promises may be wired or labeled wrongly. Coupled, its wires fit
the neighbor's or they do not: where they fit, rewiring it would short the meet.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from railbond.explaining.symptoms import symptoms
from railbond.explaining.track import promise_slips
from railbond.findings import Finding, Fix
from trackplan.edit import Edit
from trackplan.statements import Endplate

from .meet_facts import MeetFacts

RULE = "endplate-crossed"


def as_met(whole: MeetFacts, alone: Iterable[tuple[str, Finding]]) -> list[tuple[str, Finding]]:
    """The findings of modules; of edges whose wires fit the neighbors', with the mend of their promises first."""
    return [(module, _promised(whole, one) if one.rule == RULE else one) for module, one in alone]


def _promised(whole: MeetFacts, finding: Finding) -> Finding:
    plates = _broken_promises(whole, finding.at.path)
    rewired = [fix for fix in finding.fixes if fix.edits and not _are_in_any(fix.edits, plates)]
    edits = tuple(edit for plate in plates for edit in _other_leg(whole, plate))
    if not edits or not rewired or not _shorts(whole, rewired[0]):
        return finding
    words = " and ".join(f"{edit.text} at {plate.name}" for edit, plate in zip(edits, plates, strict=True))
    return finding._replace(fixes=(Fix(f"promise {words}: its wires fit the neighbor's", edits), *rewired))


def _broken_promises(whole: MeetFacts, path: str) -> list[Endplate]:
    """The edges of a module's file at which some rail carries the other leg than is promised."""
    found = {}
    for edge in whole.layout.edges.values():
        if edge.statement.at.path == path and edge.end and edge.left is not None:
            ways = whole.proof.reachable(whole.wiring.rail(edge.end, "left"))
            if any(way.source.leg != edge.left for way in ways):
                found[edge.statement.at] = edge.statement
    return list(found.values())


def _other_leg(whole: MeetFacts, plate: Endplate) -> Iterator[Edit]:
    """The promise of the other leg, where there is only one other."""
    slips = list(promise_slips(whole, plate))
    yield from slips[0].edits if len(slips) == 1 else ()


def _are_in_any(edits: Iterable[Edit], plates: list[Endplate]) -> bool:
    return all(any(plate.at.holds(edit.at) for plate in plates) for edit in edits)


def _shorts(whole: MeetFacts, fix: Fix) -> bool:
    """Whether a mend makes something wrong with the whole that is right without it."""
    tried = whole.tried(fix.edits)
    return tried is not None and not symptoms(tried).is_no_worse(symptoms(whole))
