"""Slips of the pen: a name one letter off, a number with another unit."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator
from functools import lru_cache
from math import inf, isclose

from railbond.circuit.by_kind import of_kind
from railbond.circuit.facts import Facts
from railbond.layout.model import Fault
from railbond.layout.usual import is_usual
from trackplan.amend import parts_of, set_word
from trackplan.edit import replace
from trackplan.quantities import Quantity
from trackplan.span import Word
from trackplan.statements import Bus, Feeder, Gap, Statement

from .sizes import sizes_of_others
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

_TYPED = r"([0-9.]+)(\s*)([A-Za-z]*2?)$"

MOST_NAMES = 6
"""Names one letter off that are tried for one word."""

USE = 0.2
"""How much further off, in steps, a name is for each line that uses it already: who names a thing wants to use it."""

MOST_USES = 5

LIKE_OTHERS = 4.0
"""How much further off, in steps, the unit of a number is wrong of which other lines have the like."""

BESIDE_IT = 1.0
"""The same of the number of a line that a fault of another line is about too."""

ODD_ONE = -2.0
"""The same of a unit that a text has at no other place."""

ABOUT = 3.0
"""How many times larger or smaller a number is that is still like another."""

AS_ANOTHER, ALONE = -1.0, 1.5
"""How far off, in steps, a digit too many or too few is; less, and nearer for a unit, where another line has that very
number."""


def name_slips(facts: Facts) -> Iterator[HandSlip]:
    """For every name that nothing bears, those that it is one letter off."""
    faults = [one for one in facts.layout.faults if one.rule == "unknown-name"]
    if not faults:
        return
    pool, uses = names_known(facts), _uses(facts)
    for fault in faults:
        yield from _named(facts, fault, pool, uses)


def _named(facts: Facts, fault: Fault, pool: list[str], uses: Counter[str]) -> Iterator[HandSlip]:
    typed = facts.sources[fault.at.path].part(fault.at.start, fault.at.end)
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
    """Every number of a statement that is of an unusual size, or of which something is told, in another unit, or with
    a digit more or less."""
    told = [one for one in facts.layout.faults if _is_told_of(statement, one)]
    furthest = _furthest_beyond(facts, statement)
    beside = BESIDE_IT * bool(told and furthest == inf and not any(statement.at.holds(one.at) for one in told))
    odd = units_used(facts.sources[statement.at.path].typed)
    for part in parts_of(tuple(statement[1:])):
        typed = re.match(_TYPED, part.text) if isinstance(part, Quantity) else None
        if not typed or not isinstance(part, Quantity):
            continue
        sizes = sizes_of_others(facts, statement, part)
        like = part > 0 and any(1 / ABOUT < part / size < ABOUT for size in sizes) if sizes else None
        if told or furthest < inf or (like is False and not _is_crossover(statement)) or not is_usual(statement, part):
            usual = LIKE_OTHERS * bool(like and furthest == inf) + ODD_ONE * (odd[typed[3]] == 1) + beside
            for slip in _in_other_units(facts, statement, part, sizes, *typed.groups()):
                yield slip._replace(far=slip.far + usual)
            yield from _with_other_digits(statement, part, sizes, furthest, *typed.groups())


def _furthest_beyond(facts: Facts, statement: Statement) -> float:
    """The furthest of the places, in meters from its start, that other lines tell on track beyond its length;
    without end where fewer than two do: a single one is as likely wrong itself."""
    piece = facts.layout.pieces.get(str(getattr(statement, "name", "")))
    if piece is None or piece.statement is not statement or not piece.template.is_plain:
        return inf
    told = [(one.rail.partition(".")[0], one.place) for one in of_kind(facts, Feeder)]
    told += [(one.place, one.offset) for one in of_kind(facts, Gap)]
    beyond = [place for name, place in told if name == piece.name and place and place > piece.template.length]
    return max(beyond) if len(beyond) > 1 else inf


def _is_crossover(statement: Statement) -> bool:
    """Whether track joins the diverging legs of two turnouts, which lie side by side: it is shorter than others."""
    return all(str(getattr(statement, end, "")).endswith(".diverging") for end in ("start", "finish"))


def _with_other_digits(
    statement: Statement, part: Quantity, sizes: list[float], furthest: float, number: str, blank: str, unit: str
) -> Iterator[HandSlip]:
    """The number ten times smaller or larger, as a decimal point or a zero is forgotten: as another line has it or
    needs it, or where it is not of the usual size as it stands. A gauge is no such number: 1 AWG is a hundred of
    21 AWG."""
    for shift in () if unit == "AWG" else (-1, 1):
        size = float(part) * 10.0**shift
        as_another = any(isclose(size, one) for one in sizes)
        if as_another or size >= furthest or (is_usual(statement, type(part)(size)) and not is_usual(statement, part)):
            from decimal import Decimal  # loaded where a number may be a slip only

            text = f"{Decimal(number).scaleb(shift).normalize():f}{blank or ' '}{unit}"
            words, said = f"write `{text}` for `{part.text}`", f"{part.text} is a slip for {text}"
            name = str(getattr(statement, "name", "") or statement[1])
            far = AS_ANOTHER if as_another else ALONE
            yield HandSlip("unit", statement.at, (set_word(statement, part, text),), words, said, (name,), far)


def _in_other_units(
    facts: Facts, statement: Statement, part: Quantity, sizes: list[float], number: str, blank: str, unit: str
) -> Iterator[HandSlip]:
    name = str(getattr(statement, "name", "") or statement[1])
    others = UNITS.get(unit, ())
    used = units_used(facts.sources[statement.at.path].typed)
    if unit:
        others = tuple(one for one in others if used[one[0]] or is_inch(one[0]) == is_inch(unit))
    else:
        others = tuple(sorted(others, key=lambda one: -used[one[0]]))
    for far, (other, factor) in enumerate(others):
        text, size = f"{number}{blank or ' '}{other}", float(part) * factor
        near = AS_ANOTHER * any(isclose(size, one, rel_tol=0.001) for one in sizes)
        if not factor or is_usual(statement, type(part)(size)):
            words, said = f"write `{text}` for `{part.text}`", f"{part.text} is a slip for {text}"
            yield HandSlip("unit", statement.at, (set_word(statement, part, text),), words, said, (name,), far + near)


def is_inch(unit: str) -> bool:
    """Whether a unit is one of inches and feet; a plan that has none of these has no slip for one."""
    return unit in ("in", "ft")


@lru_cache(4)
def units_used(text: str) -> Counter[str]:
    """How often each unit follows a number in a text."""
    return Counter(re.findall(r"(?<=\d) ?([A-Za-z%]+[23]?)\b", text))


def _is_told_of(statement: Statement, fault: Fault) -> bool:
    """Whether a fault is told at a statement, or of a number in it."""
    return any(statement.at.holds(at) for at in (fault.at, *(step.at for step in fault.why if step.at)))
