"""A reverser that the plan has, moved from where it stands to another section: its wires there go back to what is
around them, and the new section's wires come from it."""

from __future__ import annotations

from collections.abc import Iterator

from railbond.circuit.facts import Facts
from railbond.circuit.polarity import part_of
from railbond.circuit.signed_graph import Part, beyond
from trackplan.amend import set_word
from trackplan.edit import Edit
from trackplan.record import NamedTuple
from trackplan.statements import Feeder, FrogAutomatic, FrogSwitched

from .fix_edits import is_single, seam_edits, uncrossed
from .reversers import Reversing, with_feeders
from .running_words import wires_of
from .section import Section
from .wires_nearby import is_reversing

Wired = Feeder | FrogSwitched | FrogAutomatic


class Rewiring(NamedTuple):
    """A statement whose wires go to another supply or terminal."""

    statement: Wired
    wire: str


def moved_here(facts: Facts, section: Section, reverser: str) -> Reversing | None:
    """A section fed from a reverser of the plan, which feeds nothing else any more; None where such edits cannot be
    made."""
    used = {drop.wire.name for drop in facts.layout.drops}
    wires = wires_of(facts, reverser)
    wire = next((one for one in wires if one in used), wires[-1])
    rewirings = list(_rewirings(facts, section, reverser, wire))
    cuts = tuple(edit for seam in section.ends for edit in seam_edits(facts, seam, (0, 1)))
    made = facts.tried((*cuts, *(edit for one in rewirings for edit in _edits(facts, one, False))))
    if made is None:
        return None
    swapped = {swap.at for swap in made.swaps}
    wired = [edit for one in rewirings for edit in _edits(facts, one, one.statement.at in swapped)]
    reversing = Reversing(reverser, False, cuts, (*cuts, *wired))
    return with_feeders(facts, section, reversing, wire.rpartition(".")[2])


def _rewirings(facts: Facts, section: Section, reverser: str, wire: str) -> Iterator[Rewiring]:
    """What hangs on other wires within the section, and what hangs on the reverser outside it."""
    for statement, part, behind in _wired(facts):
        if part in section.parts and behind != {reverser}:
            yield Rewiring(statement, wire)
        elif part not in section.parts and behind == {reverser}:
            near = _fixed_wire_near(facts, part)
            if near:
                yield Rewiring(statement, near)


def _wired(facts: Facts) -> Iterator[tuple[Wired, Part, frozenset[str]]]:
    """Every feeder and every fed frog, where it is, and the supplies behind its wires."""
    drops = {drop.statement.at: drop for drop in facts.layout.drops}
    for drop in drops.values():
        yield drop.statement, part_of(facts.wiring, drop), facts.supply_of_wire.get(drop.wire.name, frozenset())
    for feed in facts.layout.frogs.values():
        if isinstance(feed.statement, FrogSwitched | FrogAutomatic):
            names = [wire.name for wire in feed.contacts.values()] + ([feed.supply] if feed.supply else [])
            behind = frozenset[str]().union(*(facts.supply_of_wire.get(name, ()) for name in names))
            yield feed.statement, (feed.piece, 0), behind


def _fixed_wire_near(facts: Facts, start: Part) -> str:
    """The nearest wire of a fixed supply, over cuts too."""
    wires: dict[Part, str] = {}
    for drop in facts.layout.drops:
        if not is_reversing(facts, drop.wire.name) and facts.supply_of_wire.get(drop.wire.name):
            wires.setdefault(part_of(facts.wiring, drop), drop.wire.name)
    queue, seen = [start], {start}
    for here in queue:
        if here in wires:
            return wires[here]
        for seam in facts.turning.seams_at.get(here, ()):
            there = beyond(seam, here)
            if there not in seen:
                seen.add(there)
                queue.append(there)
    return ""


def _edits(facts: Facts, one: Rewiring, flip: bool) -> Iterator[Edit]:
    """The words that name the wire, each leg as before unless the two are to change places."""
    name, legs, statement = one.wire.rpartition(".")[2], facts.layout.legs_of(one.wire), one.statement
    if isinstance(statement, FrogAutomatic):
        yield set_word(statement, statement.supply, name)
    elif isinstance(statement, FrogSwitched):
        feed = next(feed for feed in facts.layout.frogs.values() if feed.statement is statement)
        for number, word in enumerate((statement.through, statement.diverging)):
            if number in feed.contacts:
                yield set_word(statement, word, f"{name}.{legs[feed.contacts[number].leg ^ flip]}")
    elif is_single(statement):
        drop = next(drop for drop in facts.layout.drops if drop.statement is statement)
        yield set_word(statement, statement.supply, f"{name}.{legs[drop.wire.leg ^ flip]}")
    else:
        yield set_word(statement, statement.supply, name)
        yield from uncrossed(facts, statement) if flip else ()
