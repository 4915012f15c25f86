"""What a whole plan takes for granted: where only one rail is ever cut, the other is the common return of all cabs.

Such a plan lacks the line that says so, whatever else is wrong with it. One more slip is then looked for with the
common return in place, and told with it as one.
"""

from __future__ import annotations

from collections.abc import Sequence

from railbond.circuit.facts import Facts
from railbond.findings import Finding

from .commons import common_slips
from .search import Explained, Explanation, explain, key
from .slip import Ask, HandSlip
from .symptoms import symptoms

FEWEST_CUTS = 2
"""Joints cut in one and the same rail only, before that looks like a common rail."""


def with_what_is_granted(facts: Facts, found: Sequence[Finding], ask: Ask) -> Explanation:
    """The slips that explain what is found; in a plan that is cut for a common rail and has none, that and one more."""
    slip = common_taken_for_granted(facts)
    revised = facts.tried(slip.edits) if slip else None
    if slip is not None and revised is not None:
        after = [] if symptoms(revised).none else explain(revised, ask(revised, True), ask).slips
        if len(after) == 1 and after[0].slip.edits:
            both = facts.tried((*slip.edits, *after[0].slip.edits))
            if both and (explanation := _both(both, slip, after[0], found, ask)).slips:
                return explanation
    return explain(facts, found, ask)


def common_taken_for_granted(facts: Facts) -> HandSlip | None:
    """The common return of a plan whose cabs are joined, and in which every cut is in one rail, that of one leg."""
    layout = facts.layout
    cabs = [one for one in layout.supplies.values() if one.kind == "cab"]
    if len(cabs) < 2 or layout.commons or not facts.minglings:
        return None
    cut = [meeting for meeting in layout.meetings if meeting.gaps]
    if len(cut) < FEWEST_CUTS or any(len(meeting.gaps) > 1 for meeting in cut):
        return None
    rails = (facts.wiring.across(meeting, side) for meeting in cut for side in meeting.gaps)
    legs = {way.source.leg for pair in rails for rail in pair for way in facts.proof.reachable(rail)}
    ties = list(common_slips(facts))
    if len(legs) != 1 or len(ties) != 2:
        return None
    shared = cabs[0].legs[1 - legs.pop()]
    return next((one for one in ties if f"common {shared} of" in one.edits[0].text), None)


def _both(facts: Facts, common: HandSlip, other: Explained, found: Sequence[Finding], ask: Ask) -> Explanation:
    """Both slips told as one; `facts` are those with both undone."""
    now = ask(facts, True)
    slip = common._replace(
        edits=(*common.edits, *other.slip.edits),
        words=f"{common.words}; then {other.slip.words}",
        said=f"{common.said}; and {other.slip.said}" if other.slip.said else common.said,
        names=tuple(dict.fromkeys((*common.names, *other.slip.names))),
        lines=2,
        slips=2,
    )
    still, known = {key(one) for one in now}, {key(one) for one in found}
    own = tuple(one for one in found if key(one) not in still)
    new = tuple(one for one in now if key(one) not in known and one.level != "note")
    return Explanation([Explained(slip, own, (), new)] if own else [], now)
