"""Slips in the track itself: an arrow, a hand, two arms, an edge's promise; and in what a block hangs on."""

from __future__ import annotations

from collections.abc import Iterator

from railbond.circuit.by_kind import of_kind
from railbond.circuit.facts import Facts
from railbond.fixes.fix_edits import is_single
from railbond.layout.misread import OF_BUILDS, OF_ENDS, arrow_turned, legs_exchanged, other_build, other_hand
from trackplan.amend import set_word
from trackplan.statements import Block, ClosureBond, Endplate, Reverser, Statement

from .slip import HandSlip
from .wires import local_name

HALF_DONE = -4.0
"""How far off, in steps, another build is where its bonds are there and no wire goes to its frog."""

FEWEST_TOGGLES = 2
"""Other blocks that must have the same toggle before one is missed."""


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
    edits = tuple(legs_exchanged(statement, of_kind(facts, *OF_ENDS)))
    if len(edits) == 2:
        words, said = f"exchange the two legs of {name} where track meets them", f"the two legs of {name} are confused"
        yield HandSlip("arms", edits[0].at, edits, words, said, (name,), 0, 2)

    if built := other_build(statement, of_kind(facts, *OF_BUILDS)):
        edit, build = built
        words = f"write `{build}` at {name}, as at all other turnouts"
        said = f"{name} is written with another build"
        bonded = [one for one in of_kind(facts, ClosureBond) if one.turnout == name]
        is_half_done = bonded and name not in map(local_name, facts.layout.frogs)
        yield HandSlip("build", statement.at, (edit,), words, said, (name,), HALF_DONE * bool(is_half_done))


def _toggle_of_others(facts: Facts, block: Block) -> str:
    """What every other block may be switched to besides what this one is in, as far as that is one supply."""
    others = [one for one in facts.statements if isinstance(one, Block) and one.at != block.at]
    choices = {frozenset(map(str, (one.district, *(one.others or ())))) for one in others}
    if block.others or len(others) < FEWEST_TOGGLES or len(choices) != 1:
        return ""
    (both,) = choices
    rest = both - {str(block.district)}
    return next(iter(rest)) if len(rest) == 1 < len(both) else ""


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
    """A block or reverser in another district; a block without the toggle that all others have."""
    if isinstance(statement, Block) and (rest := _toggle_of_others(facts, statement)):
        edits = (set_word(statement, statement.district, f"{statement.district} or {rest}"),)
        words = f"put a toggle between {statement.district} and {rest} before {statement.name}, as before all others"
        said = f"{statement.name} has no toggle"
        yield HandSlip("toggle", statement.at, edits, words, said, (str(statement.name),))
    for name, supply in facts.layout.supplies.items():
        if supply.kind in ("district", "cab") and local_name(name) != statement.district:
            edits = (set_word(statement, statement.district, local_name(name)),)
            words = f"wire {statement.name} from {local_name(name)}"
            said = f"{statement.name} is in {statement.district} in place of {local_name(name)}"
            yield HandSlip("district", statement.at, edits, words, said, (str(statement.name),))
