"""Slips in the track itself: an arrow, a hand, two arms, a number's unit, an edge's promise."""

from __future__ import annotations

import re
from collections.abc import Iterator

from railbond.circuit.facts import Facts
from railbond.fixes.fix_edits import is_single
from railbond.layout.misread import arrow_turned, legs_exchanged, other_hand
from railbond.layout.usual import is_usual
from trackplan.amend import parts_of, set_word
from trackplan.quantities import Quantity
from trackplan.span import Span
from trackplan.statements import Block, Endplate, Reverser, Statement

from .slip import HandSlip
from .wires import local_name

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


def arrow_slips(facts: Facts, statement: Statement) -> Iterator[HandSlip]:
    """A segment's arrow the other way round: likely where several pairs of wires read their left and right by it."""
    if edits := arrow_turned(statement):
        name = str(getattr(statement, "name", ""))
        feeders = {drop.statement for drop in facts.layout.drops if local_name(drop.piece) == name}
        pairs = sum(0.5 if is_single(feeder) else 1 for feeder in feeders)
        words = f"turn the arrow of {name}: left and right are read along it"
        said = f"{name} is written against its arrow"
        yield HandSlip("arrow", statement.at, edits, words, said, (name,), 0 if pairs > 1 else 12)


def turnout_slips(facts: Facts, statement: Statement) -> Iterator[HandSlip]:
    """A turnout's other hand, or its two legs exchanged."""
    name = str(getattr(statement, "name", ""))
    if other := other_hand(statement):
        edit, hand = other
        words, said = f"{name} is a {hand}-hand turnout: write `{hand}`", f"{name} is of the other hand, {hand}"
        yield HandSlip("hand", statement.at, (edit,), words, said, (name,))
    edits = tuple(legs_exchanged(statement, facts.statements))
    if len(edits) == 2:
        words, said = f"exchange the two legs of {name} where track meets them", f"the two legs of {name} are confused"
        yield HandSlip("arms", edits[0].at, edits, words, said, (name,), 0, 2)


def unit_slips(facts: Facts, statement: Statement) -> Iterator[HandSlip]:
    """Every number of a statement that is of an unusual size, or of which something is told, in another unit."""
    faulty = any(one.at.path == statement.at.path and _holds(statement.at, one.at) for one in facts.layout.faults)
    for part in parts_of(tuple(statement[1:])):
        typed = _TYPED.match(part.text) if isinstance(part, Quantity) else None
        if typed and isinstance(part, Quantity) and (faulty or not is_usual(statement, part)):
            yield from _in_other_units(statement, part, *typed.groups())


def _in_other_units(statement: Statement, part: Quantity, number: str, blank: str, unit: str) -> Iterator[HandSlip]:
    name = str(getattr(statement, "name", "") or statement[1])
    for far, (other, factor) in enumerate(UNITS.get(unit, ())):
        meant = type(part)(float(part) * factor)
        text = f"{number}{blank}{other}"
        if is_usual(statement, meant):
            words, said = f"write `{text}` for `{part.text}`", f"{part.text} is a slip for {text}"
            yield HandSlip("unit", statement.at, (set_word(statement, part, text),), words, said, (name,), far)


def _holds(outer: Span, inner: Span) -> bool:
    return outer.start <= inner.start and inner.end <= outer.end


def promise_slips(facts: Facts, plate: Endplate) -> Iterator[HandSlip]:
    """The other leg at a module's edge."""
    legs = {leg for supply in facts.layout.supplies.values() for leg in supply.legs}
    if plate.left is None:
        return
    for leg in sorted(legs - {str(plate.left)}):
        edits = (set_word(plate, plate.left, leg),)
        words = f"promise {leg} at {plate.name} instead, and tell the neighbor"
        yield HandSlip("promise", plate.at, edits, words, f"{plate.name} promises the other leg", (str(plate.name),))


def district_slips(facts: Facts, statement: Block | Reverser) -> Iterator[HandSlip]:
    """A block or reverser in another district."""
    for name, supply in facts.layout.supplies.items():
        if supply.kind in ("district", "cab") and local_name(name) != statement.district:
            edits = (set_word(statement, statement.district, local_name(name)),)
            words = f"wire {statement.name} from {local_name(name)}"
            said = f"{statement.name} is in {statement.district} in place of {local_name(name)}"
            yield HandSlip("district", statement.at, edits, words, said, (str(statement.name),))
