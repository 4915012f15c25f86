"""Names that wires come from and that nothing defines: the lines that were meant to make them are written."""

from __future__ import annotations

from collections.abc import Iterator

from railbond.circuit.facts import Facts
from railbond.fixes.sections import turns
from trackplan.statements import Block, Bus, Feeder, FrogAutomatic, FrogSwitched, Reverser

from .draft import WrittenLine
from .wishes import WiringWishes


def undefined(facts: Facts, every: bool = False) -> list[str]:
    """Such names, in the order of the plan; of a module that has one of them only, it is its plug: told by `every`."""
    defined = {str(getattr(one, "name", "")) for one in facts.statements}
    defined |= {str(one.terminal) for one in facts.statements if isinstance(one, Bus)}
    found = [word for word in dict.fromkeys(_wires(facts)) if word and word not in defined]
    return found if every or len(found) > 1 or not is_fed_by_plug(facts) else []


def is_fed_by_plug(facts: Facts) -> bool:
    """Whether a plan is a module whose power comes through its bus plug."""
    return bool(facts.layout.edges) and not facts.layout.boosters


def _wires(facts: Facts) -> Iterator[str]:
    for one in facts.statements:
        if isinstance(one, Bus | Feeder | FrogAutomatic):
            yield str(one.supply).partition(".")[0]
        elif isinstance(one, FrogSwitched):
            yield from (str(word).partition(".")[0] for word in (one.through, one.diverging))


def districts_meant(facts: Facts) -> list[str]:
    """Names behind which a block or reverser stands, or at which a bus begins, and that nothing defines."""
    defined = {str(getattr(one, "name", "")) for one in facts.statements}
    words = [str(one.district) for one in facts.statements if isinstance(one, Block | Reverser)]
    terminals = {str(one.terminal) for one in facts.statements if isinstance(one, Bus)}
    words += [str(one.supply) for one in facts.statements if isinstance(one, Bus) and one.supply not in terminals]
    return [word for word in dict.fromkeys(words) if word not in defined]


def defined(facts: Facts, wishes: WiringWishes) -> Iterator[WrittenLine]:
    """A reverser for a name whose drops all lie in what must be a section; a terminal for any other."""
    supply = next((one.name for one in facts.layout.supplies.values() if one.kind == "district"), "")
    plug = "plug" if is_fed_by_plug(facts) and not supply else supply
    names = undefined(facts)
    sections = [section for turn in turns(facts) for section in turn.sections] if names else []
    for name in names:
        pieces = {
            str(one.rail).partition(".")[0]
            for one in facts.statements
            if isinstance(one, Feeder) and str(one.supply).partition(".")[0] == name
        }
        inside = any(pieces <= {part for part, _ in section.parts} for section in sections)
        if pieces and inside:
            yield WrittenLine(f"reverser {name}  in {plug}", f"{name} feeds what must be a reversing section", name)
        elif plug:
            why = f"{name} is a terminal that no run reaches"
            yield WrittenLine(f"bus {plug} -> {name}  {wishes.first_run}", why, name)
