"""What may go wrong with drops and bus wires."""

from __future__ import annotations

from collections.abc import Iterator

from railbond.circuit.graph import Bond
from railbond.layout.model import Drop, Piece, Run, Wire

from .bonds import Bonds
from .mistake import Mistake


def drop_mistakes(bonds: Bonds) -> Iterator[Mistake]:
    """A drop missing, on the other rail, on the other leg or on another supply's wire; a pair swapped."""
    feeders: dict[object, list[Drop]] = {}
    yield from _rings(bonds)
    for drop in bonds.wiring.layout.drops:
        if drop.when and drop.statement.split is not None:
            continue
        feeders.setdefault((drop.statement.at, drop.piece, drop.when), []).append(drop)
        yield from _single(bonds, drop)
    for pair in feeders.values():
        if len(pair) == 2:
            yield from _pair(bonds, *pair)


def _rings(bonds: Bonds) -> Iterator[Mistake]:
    """The two wires of a split ring, each to its half: one missing, both on one leg, or the two exchanged."""
    rings: dict[object, list[Drop]] = {}
    for drop in bonds.wiring.layout.drops:
        if drop.when and drop.statement.split is not None:
            rings.setdefault((drop.statement.at, drop.piece), []).append(drop)
    for drops in rings.values():
        at, piece = drops[0].statement.at, drops[0].piece
        wires = [bonds.wiring.wire(wire) for wire in dict.fromkeys(drop.wire for drop in drops)]
        halves = {wire: _of_wire(bonds, drops, wire) for wire in wires}
        for wire, numbers in halves.items():
            what = f"the wire from {bonds.name(wire)} to its half of {piece}'s split ring"
            yield Mistake("missing drop", f"{what} is missing or makes no contact", numbers, (), at)
            other = wires[1 - wires.index(wire)]
            words = f"{what} comes from the wrong leg, {bonds.name(other)}"
            yield Mistake("drop on the wrong leg", words, numbers, bonds.moved(numbers, wire, other), at)
        made = (bond for wire in wires for bond in bonds.moved(halves[wire], wire, wires[1 - wires.index(wire)]))
        words = f"the two wires to the halves of {piece}'s split ring are swapped"
        yield Mistake("swapped pair", words, tuple(n for wire in wires for n in halves[wire]), tuple(made), at)


def _of_wire(bonds: Bonds, drops: list[Drop], wire: int) -> tuple[int, ...]:
    mine = (drop for drop in drops if bonds.wiring.wire(drop.wire) == wire)
    return tuple(number for drop in mine for number in bonds.of_drop(drop))


def _single(bonds: Bonds, drop: Drop) -> Iterator[Mistake]:
    numbers, at = bonds.of_drop(drop), drop.statement.at
    wire, rail = bonds.wiring.wire(drop.wire), bonds.wiring.metal(drop.piece, drop.metal)
    what = f"the wire from {bonds.name(wire)} to {bonds.name(rail)}{_spot(drop)}"
    yield Mistake("missing drop", f"{what} is missing or makes no contact", numbers, (), at)
    piece = bonds.wiring.layout.pieces[drop.piece]
    beside = opposite(piece, drop.metal, drop.place)
    if beside is not None:
        far = bonds.wiring.metal(drop.piece, beside)
        words = f"{what} is on the wrong rail, {bonds.name(far)}"
        yield Mistake("drop on the wrong rail", words, numbers, bonds.moved(numbers, rail, far), at)
    leg = bonds.wiring.wire(Wire(drop.wire.name, 1 - drop.wire.leg))
    words = f"{what} comes from the wrong leg, {bonds.name(leg)}"
    yield Mistake("drop on the wrong leg", words, numbers, bonds.moved(numbers, wire, leg), at)
    for other in bonds.others(drop.wire):
        end = bonds.wiring.wire(other)
        words = f"{what} comes from the wrong supply, {bonds.name(end)}"
        yield Mistake("drop on the wrong supply", words, numbers, bonds.moved(numbers, wire, end), at)
    if drop.when:
        yield from _thrown(bonds, drop, numbers, what)


def _thrown(bonds: Bonds, drop: Drop, numbers: tuple[int, ...], what: str) -> Iterator[Mistake]:
    """Its contacts close when they should open."""
    assert drop.when
    mover, positions = drop.when
    stands = bonds.wiring.layout.pieces[mover].template.positions
    whens = [bonds.wiring.literal(mover, one) for one in stands if one not in positions]
    made = tuple(bonds.graph.bonds[numbers[0]]._replace(when=when) for when in whens) if numbers else ()
    words = f"{what} has power in the wrong positions of {mover}"
    yield Mistake("contacts backwards", words, numbers, made, drop.statement.at)


def _pair(bonds: Bonds, one: Drop, other: Drop) -> Iterator[Mistake]:
    """Both drops of a feeder exchanged, or both on another supply's wires."""
    first, second = bonds.of_drop(one), bonds.of_drop(other)
    wires = bonds.wiring.wire(one.wire), bonds.wiring.wire(other.wire)
    if one.wire.leg == other.wire.leg or one.metal == other.metal:
        return
    what = f"the two wires from {one.wire.name} to {one.piece}{_spot(one)}"
    made = (*bonds.moved(first, wires[0], wires[1]), *bonds.moved(second, wires[1], wires[0]))
    yield Mistake("swapped pair", f"{what} are swapped", (*first, *second), made, one.statement.at)
    for here, there in zip(bonds.others(one.wire), bonds.others(other.wire), strict=True):
        ends = bonds.wiring.wire(here), bonds.wiring.wire(there)
        made = (*bonds.moved(first, wires[0], ends[0]), *bonds.moved(second, wires[1], ends[1]))
        words = f"{what} come from the wrong supply, {here.name}"
        yield Mistake("pair on the wrong supply", words, (*first, *second), made, one.statement.at)


def _spot(drop: Drop) -> str:
    return "" if drop.place is None else f" at {drop.place * 100:g} cm"


def opposite(piece: Piece, metal: int, place: float | None) -> int | None:
    """The rail across from one: of a segment at that place, else at the first end that the rail reaches."""
    template = piece.template
    if template.bridge and metal in template.bridge:
        return template.bridge[1 - template.bridge.index(metal)]
    if template.length and place is not None:
        here = template.metals[metal]
        beside = (number for number, one in enumerate(template.metals) if one.words != here.words)
        return next((one for one in beside if template.metals[one].start <= place <= template.metals[one].stop), None)
    for end in template.ends.values():
        if metal in (end.left, end.right):
            return end.right if metal == end.left else end.left
    return None


def bus_mistakes(bonds: Bonds) -> Iterator[Mistake]:
    """A leg of a bus run broken, its two legs swapped, or both from another supply."""
    for run in bonds.wiring.layout.runs:
        legs = [_leg(bonds, run, leg) for leg in (0, 1)]
        for leg in legs:
            numbers, (near, far) = leg
            words = f"the bus wire from {bonds.name(near)} to {bonds.name(far)} is missing or makes no contact"
            yield Mistake("missing bus wire", words, numbers, (), run.statement.at)
            wrong = bonds.wiring.wire(Wire(run.source, 1 - legs.index(leg)))
            words = f"the bus wire to {bonds.name(far)} comes from the wrong leg, {bonds.name(wrong)}"
            made = bonds.moved(numbers, near, wrong)
            yield Mistake("bus wire on the wrong leg", words, numbers, made, run.statement.at)
        yield _crossed(bonds, run, legs)
        yield from _elsewhere(bonds, run, legs)


Leg = tuple[tuple[int, ...], tuple[int, int]]
"""The bonds of one leg of a run, and its near and far end."""


def _leg(bonds: Bonds, run: Run, leg: int) -> Leg:
    far = Wire(run.terminal, 1 - leg if run.crossed else leg)
    ends = bonds.wiring.wire(Wire(run.source, leg)), bonds.wiring.wire(far)
    number = bonds.number(*ends, None, run.statement.at)
    return (() if number is None else (number,)), ends


def _crossed(bonds: Bonds, run: Run, legs: list[Leg]) -> Mistake:
    (one, (near, far)), (other, (near_too, far_too)) = legs
    made = (Bond(near, far_too, None, "wire", run.statement.at), Bond(near_too, far, None, "wire", run.statement.at))
    words = f"the two bus wires from {run.source} to {run.terminal} are swapped"
    return Mistake("swapped bus", words, (*one, *other), made, run.statement.at)


def _elsewhere(bonds: Bonds, run: Run, legs: list[Leg]) -> Iterator[Mistake]:
    lost = tuple(number for numbers, _ in legs for number in numbers)
    others = zip(bonds.others(Wire(run.source, 0)), bonds.others(Wire(run.source, 1)), strict=True)
    for here, there in others:
        ends = zip((here, there), legs, strict=True)
        made = tuple(Bond(bonds.wiring.wire(wire), far, None, "wire", run.statement.at) for wire, (_, (_, far)) in ends)
        words = f"the bus to {run.terminal} comes from the wrong supply, {here.name}"
        yield Mistake("bus on the wrong supply", words, lost, made, run.statement.at)
