"""The edits that make a stretch of track a reversing section: gaps, a reverser, and its wires."""

from __future__ import annotations

from collections.abc import Collection, Iterator

from railbond.circuit.effort import spend, spent
from railbond.circuit.facts import Facts
from railbond.circuit.keeping import once
from railbond.circuit.polarity import crossed_wires, part_of, part_side
from railbond.layout.model import FrogFeed, Wire
from trackplan.amend import set_word
from trackplan.edit import Edit, add_line
from trackplan.record import NamedTuple
from trackplan.span import Span
from trackplan.statements import Bus, Feeder, FrogAutomatic, FrogSwitched, Reverser

from .feeding import feed
from .fix_edits import beside, is_single, seam_edits, uncrossed
from .section import Section
from .section_supplies import reverser_for, spare_reversers


class Reversing(NamedTuple):
    """How a section is made: the reverser's name, whether it is a new one, the new gaps, and all the edits. `made` is
    the plan with these, where it was tried to find them, and `steps` the effort that this took."""

    name: str
    is_new: bool
    cuts: tuple[Edit, ...]
    edits: tuple[Edit, ...]
    made: Facts | None = None
    steps: float = 0.0

    def tried(self, facts: Facts) -> Facts | None:
        """The plan with the edits made; None where they cannot be. Effort is counted whether that is known or not."""
        if self.made:
            spend(self.steps)
        return self.made or facts.tried(self.edits)


def reverse(facts: Facts, section: Section, taken: Collection[str] = ()) -> Reversing | None:
    """Gaps the section's ends and feeds it, and no other track, from a reverser of its own, which the plan may have
    already; one that is `taken` is for another section. Track that this leaves without power gets feeders. None where
    such edits cannot be made."""
    own = reverser_for(facts, section)
    own = None if own in taken else own
    name = own or free_reverser(facts, taken)
    is_new = name not in facts.layout.supplies
    cuts = tuple(edit for seam in section.ends for edit in seam_edits(facts, seam, (0, 1)))
    edits = [*cuts]
    if is_new:
        district, at = _district(facts, section)
        edits.append(add_line(beside(facts, Reverser, at), f"reverser {name}  in {district}"))
    if own is None:
        edits += _moved(facts, section, name)
    return with_feeders(facts, section, Reversing(name, is_new, cuts, tuple(edits)), name)


def with_feeders(facts: Facts, section: Section, reversing: Reversing, wire: str) -> Reversing | None:
    """The same with feeders for the rails that have no power once the edits are made, in the section from a wire of its
    reverser; None where they cannot be made."""
    made = facts.tried(reversing.edits)
    if made is None:
        return None
    _, before = facts.proof, spent()  # what the plan itself takes is counted once
    dead, steps = made.proof.dead(made.graph.rails), spent() - before
    fed = tuple(_fed(made, dead, section, wire))
    return reversing._replace(edits=reversing.edits + fed) if fed else reversing._replace(made=made, steps=steps)


def _fed(made: Facts, dead: list[int], section: Section, wire: str) -> Iterator[Edit]:
    unfed = [rail for rail in dead if rail not in made.frog_units]
    for inside in (True, False):
        rails = [rail for rail in unfed if (_part(made, rail) in section.parts) == inside]
        fix = feed(made, rails, wire if inside else "") if rails else None
        yield from fix.edits if fix else ()


def free_reverser(facts: Facts, taken: Collection[str] = ()) -> str:
    """A reverser that feeds nothing yet, or the name of a new one."""
    spare = (name for name in spare_reversers(facts) if name not in taken)
    return next(spare, new_name(facts, taken))


def _part(facts: Facts, rail: int) -> tuple[str, int]:
    piece = facts.piece_of(rail)
    return part_side(facts.wiring, piece, rail - facts.wiring.first[piece])[0]


def _moved(facts: Facts, section: Section, name: str) -> Iterator[Edit]:
    """The section's wires moved to the reverser: at the bus run, where that feeds nothing else, or one by one."""
    feeders, frogs = _feeders(facts, section), _frogs(facts, section)
    wires = dict.fromkeys(wire for one in feeders for wire in _wires(facts, one))
    wires |= dict.fromkeys(wire for one in frogs for wire in one.contacts.values())
    for terminal in dict.fromkeys(wire.name for wire in wires):
        if run := _own_run(facts, terminal, feeders, frogs):
            yield set_word(run, run.supply, name)
            continue
        for feeder in feeders:
            if terminal in {wire.name for wire in _wires(facts, feeder)}:
                yield from _moved_feeder(facts, feeder, name)
        for frog in frogs:
            yield from _moved_frog(facts, frog, terminal, name)
    yield from _moved_units(facts, frogs, name)


def _own_run(facts: Facts, terminal: str, feeders: list[Feeder], frogs: list[FrogFeed]) -> Bus | None:
    """The only run to a terminal from which nothing goes but to these feeders and frogs."""
    runs = [run for run in facts.layout.runs if terminal in (run.source, run.terminal)]
    drops = [drop.statement for drop in facts.layout.drops if drop.wire.name == terminal]
    contacts = [one for one in facts.layout.frogs.values() if terminal in {w.name for w in one.contacts.values()}]
    alone = all(one in feeders for one in drops) and all(one in frogs for one in contacts)
    return runs[0].statement if len(runs) == 1 and runs[0].terminal == terminal and alone else None


def _moved_feeder(facts: Facts, feeder: Feeder, name: str) -> Iterator[Edit]:
    wire = _wires(facts, feeder)[0]
    if is_single(feeder):
        yield set_word(feeder, feeder.supply, f"{name}.{_leg(facts, wire)}")
        return
    yield set_word(feeder, feeder.supply, name)
    if crossed_wires(facts.wiring).get(wire.name):
        yield from uncrossed(facts, feeder)


def _moved_frog(facts: Facts, frog: FrogFeed, terminal: str, name: str) -> Iterator[Edit]:
    if isinstance(frog.statement, FrogSwitched):
        words = (frog.statement.through, frog.statement.diverging)
        for word, wire in zip(words, frog.contacts.values(), strict=False):
            if wire.name == terminal:
                yield set_word(frog.statement, word, f"{name}.{_leg(facts, wire)}")


def _moved_units(facts: Facts, frogs: list[FrogFeed], name: str) -> Iterator[Edit]:
    """Automatic frog units within the section, which take their power from its reverser."""
    for frog in frogs:
        if isinstance(frog.statement, FrogAutomatic):
            yield set_word(frog.statement, frog.statement.supply, name)


def _leg(facts: Facts, wire: Wire) -> str:
    """What the reverser calls the leg that arrives on a wire."""
    supplies = sorted(facts.supply_of_wire.get(wire.name, ()))
    legs = facts.layout.legs_of(supplies[0] if supplies else wire.name)
    return legs[wire.leg ^ crossed_wires(facts.wiring).get(wire.name, False)]


def _wires(facts: Facts, feeder: Feeder) -> list[Wire]:
    return [drop.wire for drop in facts.layout.drops if drop.statement is feeder]


def _feeders(facts: Facts, section: Section) -> list[Feeder]:
    """The feeders whose drops land on the section."""
    found = {
        drop.statement.at: drop.statement for drop in facts.layout.drops if part_of(facts.wiring, drop) in section.parts
    }
    return list(found.values())


def _frogs(facts: Facts, section: Section) -> list[FrogFeed]:
    pieces = {name for name, _ in section.parts}
    return [feed for feed in facts.layout.frogs.values() if feed.piece in pieces]


def _district(facts: Facts, section: Section) -> tuple[str, Span]:
    """The district that the section belongs to by its feeders, else the plan's first; and where it is declared."""
    wires = [wire.name for one in _feeders(facts, section) for wire in _wires(facts, one)]
    fed = [name for wire in wires for name in sorted(facts.supply_of_wire.get(wire, ()))]
    for name in [*fed, *facts.layout.supplies]:
        supply = facts.layout.supplies[name]
        if supply.kind in ("district", "plug"):
            return name.rpartition(".")[2], supply.statement.at
        if supply.district is not None:
            return supply.district.rpartition(".")[2], supply.statement.at
    return "main", facts.layout.pieces[section.parts[0][0]].statement.at


def new_name(facts: Facts, others: Collection[str] = ()) -> str:
    """A free name for a reverser: R1, R2 and so on."""
    names, more = _names(facts), facts.reserved.union(others)
    numbered = (f"R{number}" for number in range(1, len(names) + len(more) + 2))
    return next(name for name in numbered if name not in names and name not in more)


@once
def _names(facts: Facts) -> frozenset[str]:
    """Every name that a line gives."""
    return frozenset(str(getattr(one, "name", "")) for one in facts.statements)
