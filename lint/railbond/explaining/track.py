"""Slips in the track itself: an arrow, a hand, two arms, a number's unit, an edge's promise."""

from __future__ import annotations

import re
from collections.abc import Iterator

from railbond.circuit.facts import Facts
from trackplan.amend import parts_of, set_word
from trackplan.edit import Edit
from trackplan.quantities import Quantity
from trackplan.span import Span
from trackplan.statements import Block, Endplate, Joint, Reverser, Segment, Statement, Stub, Turnout

from .slip import Slip
from .usual import is_usual
from .wires import local_name

HANDS = {"left": "right", "right": "left", "curved left": "curved right", "curved right": "curved left"}
ARMS = {"wye": ("left", "right")}
UNITS: dict[str, tuple[tuple[str, float], ...]] = {
    "mm": (("cm", 10.0), ("m", 1000.0), ("in", 25.4)),
    "cm": (("m", 100.0), ("mm", 0.1), ("in", 2.54)),
    "m": (("cm", 0.01), ("mm", 0.001), ("ft", 0.3048)),
    "ft": (("in", 1 / 12), ("m", 3.281)),
    "in": (("ft", 12.0), ("cm", 0.3937), ("m", 39.37)),
    "A": (("mA", 0.001),),
    "mA": (("A", 1000.0),),
}
"""What each unit is mistaken for, and how much larger the quantity is then."""
_TYPED = re.compile(r"([0-9.]+)(\s*)([A-Za-z]+)$")


def segment_slips(facts: Facts, segment: Segment) -> Iterator[Slip]:
    """The arrow the other way round; not for track that no wire and no cut reads by its left and right."""
    drops = {drop.statement.at for drop in facts.layout.drops if drop.piece.rpartition(".")[2] == segment.name}
    edits = set_word(segment, segment.start, str(segment.finish)), set_word(segment, segment.finish, str(segment.start))
    words = f"turn the arrow of {segment.name}: left and right are read along it"
    said = f"{segment.name} is written against its arrow"
    yield Slip("arrow", segment.at, edits, words, said, (str(segment.name),), 0 if len(drops) > 1 else 12)


def turnout_slips(facts: Facts, turnout: Turnout | Stub) -> Iterator[Slip]:
    """The other hand, or the two legs exchanged."""
    name = str(turnout.name)
    if other := HANDS.get(turnout.hand):
        edit, words = set_word(turnout, turnout.hand, other), f"{name} is a {other}-hand turnout: write `{other}`"
        yield Slip("hand", turnout.at, (edit,), words, f"{name} is of the other hand, {other}", (name,))
    arms = ARMS.get(turnout.hand, ("through", "diverging"))
    edits = tuple(_exchanged(facts, turnout, arms))
    if len(edits) == 2:
        words = f"exchange {name}.{arms[0]} and {name}.{arms[1]}"
        said = f"the two legs of {name} are confused"
        yield Slip("arms", edits[0].at, edits, words, said, (name,), 0, 2)


def _exchanged(facts: Facts, turnout: Turnout | Stub, arms: tuple[str, str]) -> Iterator[Edit]:
    """Each mention of one leg where track meets it as the other one."""
    ends = {f"{turnout.name}.{one}": f"{turnout.name}.{other}" for one, other in (arms, arms[::-1])}
    for statement in facts.statements:
        if isinstance(statement, Segment | Joint) and statement.at.path == turnout.at.path:
            for word in (statement[2], statement[3]) if isinstance(statement, Segment) else statement[1:3]:
                if word in ends:
                    yield set_word(statement, word, ends[word])


def unit_slips(facts: Facts, statement: Statement) -> Iterator[Slip]:
    """Every number of a statement that is of an unusual size, or of which something is told, in another unit."""
    faulty = any(one.at.path == statement.at.path and _holds(statement.at, one.at) for one in facts.layout.faults)
    for part in parts_of(tuple(statement[1:])):
        typed = _TYPED.match(part.text) if isinstance(part, Quantity) else None
        if typed and isinstance(part, Quantity) and (faulty or not is_usual(statement, part)):
            yield from _in_other_units(statement, part, *typed.groups())


def _in_other_units(statement: Statement, part: Quantity, number: str, blank: str, unit: str) -> Iterator[Slip]:
    name = str(getattr(statement, "name", "") or statement[1])
    for far, (other, factor) in enumerate(UNITS.get(unit, ())):
        meant = type(part)(float(part) * factor)
        text = f"{number}{blank}{other}"
        if is_usual(statement, meant):
            words, said = f"write `{text}` for `{part.text}`", f"{part.text} is a slip for {text}"
            yield Slip("unit", statement.at, (set_word(statement, part, text),), words, said, (name,), far)


def _holds(outer: Span, inner: Span) -> bool:
    return outer.start <= inner.start and inner.end <= outer.end


def promise_slips(facts: Facts, plate: Endplate) -> Iterator[Slip]:
    """The other leg at a module's edge."""
    legs = {leg for supply in facts.layout.supplies.values() for leg in supply.legs}
    if plate.left is None:
        return
    for leg in sorted(legs - {str(plate.left)}):
        edits = (set_word(plate, plate.left, leg),)
        words = f"promise {leg} at {plate.name} instead, and tell the neighbour"
        yield Slip("promise", plate.at, edits, words, f"{plate.name} promises the other leg", (str(plate.name),))


def district_slips(facts: Facts, statement: Block | Reverser) -> Iterator[Slip]:
    """A block or reverser in another district."""
    for name, supply in facts.layout.supplies.items():
        if supply.kind in ("district", "cab") and local_name(name) != statement.district:
            edits = (set_word(statement, statement.district, local_name(name)),)
            words = f"wire {statement.name} from {local_name(name)}"
            said = f"{statement.name} is in {statement.district} in place of {local_name(name)}"
            yield Slip("district", statement.at, edits, words, said, (str(statement.name),))
