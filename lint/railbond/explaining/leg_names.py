"""A supply's line that calls a leg otherwise than all that name it: `legs hot return`, and `ret` everywhere else."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

from railbond.circuit.by_kind import of_kind
from railbond.circuit.facts import Facts
from trackplan.amend import parts_of, set_word
from trackplan.cabs import Cab
from trackplan.span import Word
from trackplan.statements import District

from .slip import HandSlip

OFTEN = 2
"""Lines that name a leg which a supply does not have before the supply's own line may be the wrong one."""


def leg_slips(facts: Facts) -> Iterator[HandSlip]:
    """For every leg that a supply does not have, and that others have or several lines name, a leg of its line that no
    line names, called so."""
    faults = (one.at for one in facts.layout.faults if one.rule == "unknown-name")
    asked = Counter(facts.sources[at.path].part(at.start, at.end).rpartition(".")[2] for at in faults)
    supplies = [one for one in of_kind(facts, District, Cab) if isinstance(one, District | Cab) and one.legs]
    had = {leg for one in supplies for leg in one.legs or ()}
    named = _named(facts) if asked else set[str]()
    for leg in (leg for leg, often in asked.items() if leg in had or often >= OFTEN):
        for one in supplies:
            for own in (word for word in one.legs or () if word not in named and leg not in (one.legs or ())):
                words = f"write `{leg}` for `{own}` in the line of {one.name}"
                said = f"{one.name} has {own} where other lines say {leg}"
                yield HandSlip("name", one.at, (set_word(one, own, leg),), words, said, (str(one.name),))


def _named(facts: Facts) -> set[str]:
    """The last part of every word of the plan that is no leg in a supply's own line."""
    found = set[str]()
    for one in facts.statements:
        own = one.legs or () if isinstance(one, District | Cab) else ()
        words = (part for part in parts_of(tuple(one[1:])) if isinstance(part, Word))
        found.update(word.rpartition(".")[2] for word in words if not any(word is leg for leg in own))
    return found
