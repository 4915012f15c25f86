"""A reverser's section that is too short for the trains, made where they fit: the same reverser, its cuts moved."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import islice

from railbond.circuit.facts import Facts
from railbond.findings import Fix
from trackplan.amend import set_word
from trackplan.edit import Edit
from trackplan.span import Word
from trackplan.statements import Bus, Feeder, FrogAutomatic, FrogSwitched

from .making_sections import lines_changed, with_cuts
from .moved_reverser import moved_here
from .sections import turns

MOST = 2
"""Places that are offered."""


def elsewhere(facts: Facts, reverser: str, meters: float) -> list[Fix]:
    """The reverser moved to a section that is at least so long, the fewest changed lines first."""
    free = facts.tried(tuple(as_its_district(facts, reverser)))
    found = turns(free) if free else []
    long_enough = [one for one in found[0].sections if one.length >= meters] if len(found) == 1 else []
    made = ((section, moved_here(facts, section, reverser)) for section in long_enough)
    ways = [way.fix for section, one in made if one for way in islice(with_cuts(facts, section, one), 1)]
    return sorted(ways, key=lambda fix: lines_changed(facts, fix.edits))[:MOST]


def as_its_district(facts: Facts, reverser: str) -> Iterator[Edit]:
    """All that begins at the reverser on its district instead, or on the block before it: as if it were none."""
    supply = facts.layout.supplies[reverser]
    name, parent = (one.rpartition(".")[2] for one in (reverser, supply.detector or supply.district or ""))
    for one in facts.statements:
        if one.at.start == one.at.end:
            continue
        words: tuple[Word, ...] = (one.through, one.diverging) if isinstance(one, FrogSwitched) else ()
        if isinstance(one, Bus | Feeder | FrogAutomatic):
            words = (one.supply,)
        for word in words:
            owner, dot, leg = word.partition(".")
            if owner == name:
                yield set_word(one, word, f"{parent}{dot}{_leg_there(facts, reverser, leg) if dot else ''}")


def _leg_there(facts: Facts, reverser: str, leg: str) -> str:
    legs, there = facts.layout.legs_of(reverser), facts.layout.legs_of(facts.layout.supplies[reverser].district or "")
    return there[legs.index(leg)] if leg in legs else leg
