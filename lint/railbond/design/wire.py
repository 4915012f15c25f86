"""Wires a plan: from the track that it has to lines that are proven by the inspection, and by nothing in here."""

from __future__ import annotations

from typing import NamedTuple

from railbond.circuit.effort import Budget
from railbond.doorway import enter
from railbond.findings import Finding
from railbond.inspection import as_written
from railbond.rules import askable
from railbond.rules.unfed_rail import unfed_rails

from .bill import cost
from .copper import with_copper
from .draft import GROUPS, Draft, OpenText, WrittenLine
from .lengths import lengths_of
from .lower_bound import LowerBound, lower_bound, statements
from .power_up import supplies
from .settling import found, settled, told
from .turnout_work import rebuilt
from .undefined import defined
from .wishes import NO_WISHES, WiringWishes, costs_of, standard_of

WHOLE = 26_000.0
"""Steps of effort for a plan in all, after which nothing is added or taken out again on a last look: about a second.
What track asks for takes half of that at 200 lines; a plan full of faults takes it all."""
UNCLEAR = ("syntax", "unit-in-doubt", "name-used-twice")
"""What is to be put right before anything is written: lines might be missing that are there, or be written by the
hundred."""


class WiredPlan(NamedTuple):
    """A plan with its wiring: the lines that were written, the text with them, what could not be wired and why, what
    the new lines cost, and what no wiring of this track costs less than."""

    lines: list[WrittenLine]
    text: str
    left: list[Finding]
    cost: float
    bound: LowerBound


def wire(root: str, open_text: OpenText, wishes: WiringWishes = NO_WISHES) -> WiredPlan:
    """Writes what is missing into a plan. Raises OSError where it cannot be opened, and TooManyDrops where a
    limit asks for more of them than anybody solders."""
    whole = Budget(WHOLE)
    draft = Draft(root, open_text)
    wishes = wishes._replace(wire=wishes.wire or standard_of(draft.before), lengths=lengths_of(draft.before))
    pairs = _wire(draft, wishes, whole) if is_asked_for(draft, wishes) else 0
    costs = costs_of(draft.facts.layout)
    bound = lower_bound(draft.lines, pairs, costs)
    return WiredPlan(_in_order(draft.lines), draft.text, found(draft), cost(statements(draft.lines), costs), bound)


def _in_order(lines: list[WrittenLine]) -> list[WrittenLine]:
    """Lines as they stand in the text: power first, drops last."""
    kinds = [kind for _, own in GROUPS for kind in own]
    return sorted(lines, key=lambda line: kinds.index(line.kind) if line.kind in kinds else len(kinds))


def is_asked_for(draft: Draft, wishes: WiringWishes) -> bool:
    """Whether anything is missing: a finding at warning or above, a rail far from a wire, or drops to every piece. Of a
    plan that does not read, or of which a length can hardly be meant, nobody knows what is missing."""
    if as_written(draft.facts.in_trial(), rules=[one for one in askable() if one.name in UNCLEAR]):
        return False
    if enter(draft.root, draft.opened).modules:
        return False
    if wishes.drops == "every-piece" or unfed_rails(draft.facts):
        return True
    return any(one.level != "note" or one.rule == "feeders-too-far-apart" for one in told(draft))


def _wire(draft: Draft, wishes: WiringWishes, whole: Budget) -> int:
    """Writes the lines; tells how many pairs of drops the track asks for at least, wherever it is cut."""
    draft.write(*supplies(draft.facts, wishes))
    draft.write(*defined(draft.facts, wishes))
    draft.write(*rebuilt(draft.facts, wishes))
    pairs = with_copper(draft, wishes)
    settled(draft, wishes, whole)
    return pairs
