"""Slips of the pen: a name one letter off, a number with another unit."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator

from railbond.circuit.facts import Facts
from railbond.layout.model import Fault
from railbond.layout.usual import is_usual
from trackplan.amend import parts_of, set_word
from trackplan.edit import replace
from trackplan.quantities import Quantity
from trackplan.span import Word
from trackplan.statements import Bus, Statement

from .slip import HandSlip, one_letter_off
from .wires import local_name

UNITS: dict[str, tuple[tuple[str, float], ...]] = {
    "mm": (("cm", 10.0), ("m", 1000.0), ("in", 25.4)),
    "cm": (("m", 100.0), ("mm", 0.1), ("in", 2.54)),
    "m": (("cm", 0.01), ("mm", 0.001), ("ft", 0.3048)),
    "ft": (("in", 1 / 12), ("m", 3.281)),
    "in": (("ft", 12.0), ("cm", 0.3937), ("m", 39.37)),
    "A": (("mA", 0.001),),
    "mA": (("A", 1000.0),),
    "degrees": (("cm", 0.0), ("mm", 0.0), ("in", 0.0)),
    "": (("cm", 0.0), ("in", 0.0), ("mm", 0.0), ("m", 0.0), ("ft", 0.0), ("A", 0.0), ("V", 0.0)),
}
"""What each unit is mistaken for, and how much larger the quantity is then; 0 where it is another kind of quantity. A
number without a unit lacks one."""

_TYPED = re.compile(r"([0-9.]+)(\s*)([A-Za-z]*)$")

MOST_NAMES = 6
"""Names one letter off that are tried for one word."""

USE = 0.2
"""How much further off, in steps, a name is for each line that uses it already: who names a thing wants to use it."""

MOST_USES = 5

LIKE_OTHERS = 4.0
"""How much further off, in steps, the unit of a number is wrong of which other lines have the like."""

ABOUT = 3.0
"""How many times larger or smaller a number is that is still like another."""


def name_slips(facts: Facts) -> Iterator[HandSlip]:
    """For every name that nothing bears, those that it is one letter off."""
    faults = [one for one in facts.layout.faults if one.rule == "unknown-name"]
    if not faults:
        return
    pool, uses = names_known(facts), _uses(facts)
    for fault in faults:
        yield from _named(facts, fault, pool, uses)


def _named(facts: Facts, fault: Fault, pool: list[str], uses: Counter[str]) -> Iterator[HandSlip]:
    typed = facts.sources[fault.at.path].text[fault.at.start : fault.at.end]
    head, dot, tail = typed.partition(".")
    near = [*one_letter_off(typed, pool), *(f"{one}{dot}{tail}" for one in one_letter_off(head, pool) if dot)]
    far = {one: USE * min(uses[one.partition(".")[0] if dot else one], MOST_USES) for one in near}
    for name in sorted(far, key=lambda one: far[one])[:MOST_NAMES]:
        words, said = f"write `{name}` here", f"`{typed}` is a slip for `{name}`"
        names = tuple(dict.fromkeys((*fault.names, name.partition(".")[0])))
        yield HandSlip("name", fault.at, (replace(fault.at, name),), words, said, names, far[name])


def names_known(facts: Facts) -> list[str]:
    """All that a word of a plan may be a slip for: supplies, terminals, pieces and their ends, joints, edges."""
    layout = facts.layout
    ends = (f"{local_name(name)}.{end}" for name, piece in layout.pieces.items() for end in piece.template.ends)
    joints = (meeting.name for meeting in layout.meetings if meeting.name)
    own = map(local_name, (*layout.supplies, *layout.terminals, *layout.pieces, *joints))
    return list(dict.fromkeys((*own, *ends, *layout.edges)))


def _uses(facts: Facts) -> Counter[str]:
    """How many words of other lines name a thing."""
    found = Counter[str]()
    for statement in facts.statements:
        defines = statement.terminal if isinstance(statement, Bus) else getattr(statement, "name", None)
        words = {str(part).partition(".")[0] for part in parts_of(tuple(statement[1:])) if isinstance(part, Word)}
        found.update(words - {str(defines)})
    return found


def unit_slips(facts: Facts, statement: Statement) -> Iterator[HandSlip]:
    """Every number of a statement that is of an unusual size, or of which something is told, in another unit."""
    faulty = any(one.at.path == statement.at.path and _holds(statement, one) for one in facts.layout.faults)
    for part in parts_of(tuple(statement[1:])):
        typed = _TYPED.match(part.text) if isinstance(part, Quantity) else None
        if not typed or not isinstance(part, Quantity):
            continue
        like = _is_like_others(facts, statement, part)
        if faulty or like is False or not is_usual(statement, part):
            usual = LIKE_OTHERS * bool(like)
            for slip in _in_other_units(facts, statement, part, *typed.groups()):
                yield slip._replace(far=slip.far + usual)


def _is_like_others(facts: Facts, statement: Statement, part: Quantity) -> bool | None:
    """Whether other lines have about the same number at this place: then it is the one of another line that is wrong.
    None where no other line has one."""
    field = next((name for name, value in zip(statement._fields, statement, strict=True) if value is part), None)
    if field is None:
        return None
    others = [
        getattr(one, field) for one in facts.statements if type(one) is type(statement) and one.at != statement.at
    ]
    sizes = [float(one) for one in others if isinstance(one, type(part)) and one > 0]
    return part > 0 and any(1 / ABOUT < part / size < ABOUT for size in sizes) if sizes else None


def _in_other_units(
    facts: Facts, statement: Statement, part: Quantity, number: str, blank: str, unit: str
) -> Iterator[HandSlip]:
    name = str(getattr(statement, "name", "") or statement[1])
    others = UNITS.get(unit, ())
    if not unit:
        used = units_used(facts.sources[statement.at.path].text)
        others = tuple(sorted(others, key=lambda one: -used[one[0]]))
    for far, (other, factor) in enumerate(others):
        text = f"{number}{blank or ' '}{other}"
        if not factor or is_usual(statement, type(part)(float(part) * factor)):
            words, said = f"write `{text}` for `{part.text}`", f"{part.text} is a slip for {text}"
            yield HandSlip("unit", statement.at, (set_word(statement, part, text),), words, said, (name,), far)


def units_used(text: str) -> Counter[str]:
    """How often each unit follows a number in a text."""
    return Counter(re.findall(r"(?<=\d) ?([A-Za-z%]+[23]?)\b", text))


def _holds(statement: Statement, fault: Fault) -> bool:
    return statement.at.start <= fault.at.start and fault.at.end <= statement.at.end
