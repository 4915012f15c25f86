"""Wires a plan: from the track that it has to lines that are proven by the inspection, and by nothing in here."""

from __future__ import annotations

from typing import NamedTuple

from railbond.circuit.signed_graph import Part
from railbond.doorway import enter
from railbond.findings import Finding
from railbond.fixes.feeding import feed
from railbond.rules.unfed_rail import unfed_rails

from .bill import cost
from .dividing import divided
from .draft import Draft, OpenText, WrittenLine
from .drops import fewest_pairs
from .enough_copper import is_enough
from .lower_bound import LowerBound, lower_bound, statements
from .power_up import supplies
from .reversing import reversing_sections
from .settling import found, settled, told
from .soldering import TRIALS, CopperTrial, solder
from .tables import bridges
from .territory import idle, territory
from .turnout_work import fed_frogs, rebuilt
from .undefined import defined
from .wishes import NO_WISHES, WiringWishes, costs_of

LARGE = 2_000
"""Lines from which on only a few ways to lay the copper are tried."""


UNCLEAR = ("syntax", "unit-in-doubt")
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
    """Writes what is missing into a plan. Raises OSError where it cannot be opened."""
    draft = Draft(root, open_text)
    pairs = _wire(draft, wishes) if is_asked_for(draft, wishes) else 0
    costs = costs_of(draft.facts.layout)
    bound = lower_bound(draft.lines, pairs, costs)
    return WiredPlan(draft.lines, draft.text, found(draft), cost(statements(draft.lines), costs), bound)


def is_asked_for(draft: Draft, wishes: WiringWishes) -> bool:
    """Whether anything is missing: a finding at warning or above, a rail far from a wire, or drops to every piece. Of a
    plan that does not read, or of which a length can hardly be meant, nobody knows what is missing."""
    findings = told(draft)
    if any(one.rule in UNCLEAR for one in findings):
        return False
    if enter(draft.root, draft.opened).modules:
        return False
    if wishes.drops == "every-piece" or unfed_rails(draft.facts):
        return True
    return any(one.level != "note" or one.rule == "feeders-too-far-apart" for one in findings)


def _wire(draft: Draft, wishes: WiringWishes) -> int:
    """Writes the lines; tells how many pairs of drops the track asks for at least, wherever it is cut."""
    draft.write(*supplies(draft.facts, wishes))
    draft.write(*defined(draft.facts, wishes))
    draft.write(*rebuilt(draft.facts, wishes))
    pairs, waiting = fewest_pairs(draft.facts), len(idle(draft.facts))
    sections = reversing_sections(draft)
    pairs = max(pairs, waiting + sum(line.kind == "reverser" for line in draft.lines))
    shares = divided(draft, sections)
    owners = territory(draft.facts, sections | shares)
    bare, best = list(draft.lines), list[WrittenLine]()
    for trial in TRIALS[: 3 if draft.text.count("\n") > LARGE else None]:
        draft.put(bare)
        _lay(draft, wishes, owners, trial)
        best = best or draft.lines
        if is_enough(draft.facts):
            best = draft.lines
            break
    draft.put(best)
    settled(draft, wishes)
    return pairs


def _lay(draft: Draft, wishes: WiringWishes, owners: dict[Part, str], trial: CopperTrial) -> None:
    """All copper, and what feeds the frogs."""
    solder(draft, wishes, owners, trial)
    draft.write(*bridges(draft.facts, owners))
    _leftovers(draft)
    draft.write(*fed_frogs(draft.facts, wishes, owners))


def _leftovers(draft: Draft) -> None:
    """Single drops to what no pair reaches: the rails of pieces without plain track between them."""
    rails = unfed_rails(draft.facts)
    fix = feed(draft.facts, rails) if rails else None
    lines = [edit.text for edit in fix.edits if edit.line] if fix else []
    draft.write(*(WrittenLine(text, "no pair of drops reaches this rail") for text in lines))
