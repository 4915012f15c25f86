"""What is cut in a turnout whose frog is one metal with its rails."""

from __future__ import annotations

from collections import Counter

from railbond.circuit.facts import Facts
from trackplan.statements import Cut

CUTS = {
    "closure jumpers": "the jumpers between the closure rails and the frog of {}",
    "around frog": "the rails of {} on both sides of its frog",
    "frog rails": "the two frog rails of {}, beyond its frog",
}
"""What may be cut, and that in words."""


def cuts_as_elsewhere(facts: Facts) -> list[tuple[str, str]]:
    """What may be cut, first as it is cut at the most other turnouts."""
    made = _made(facts)
    return sorted(CUTS.items(), key=lambda one: -made[one[0]])


def is_cut_one_way(facts: Facts) -> bool:
    """Whether all turnouts of the plan that are cut are cut in the same way, two at least."""
    made = _made(facts)
    return len(made) == 1 and made.total() > 1


def _made(facts: Facts) -> Counter[str]:
    works = (one for piece in facts.layout.pieces.values() for one in piece.work)
    return Counter(str(one.what) for one in works if isinstance(one, Cut))
