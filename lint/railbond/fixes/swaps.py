"""Wires swapped, as edits and in words."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from railbond.circuit.bus_tree import Swap
from railbond.circuit.facts import Facts
from railbond.findings import Fix
from trackplan.edit import Edit
from trackplan.statements import Bus, Feeder, FrogSwitched

from .fix_edits import is_single, swapped_contacts, uncrossed


def swapped(facts: Facts, wires: Sequence[Swap]) -> Fix:
    """Feeders, bus runs and frogs' contacts swapped, all of them."""
    edits = list[Edit]()
    for one in wires:
        edits += swapped_contacts(one) if isinstance(one, FrogSwitched) else uncrossed(facts, one)
    return Fix(swap_words(facts, wires), tuple(edits))


def swap_words(facts: Facts, wires: Iterable[Swap]) -> str:
    """The same in words: two wires change places, and a single one goes to the other leg."""
    pairs, moves = list[str](), list[str]()
    for one in wires:
        if isinstance(one, Feeder) and is_single(one):
            moves.append(f"move the wire to {one.rail} from {one.supply} to {uncrossed(facts, one)[0].text}")
        else:
            pairs.append(f"{one.turnout}'s frog" if isinstance(one, FrogSwitched) else target(one))
    swaps = [f"swap the two wires to {' and to '.join(pairs)}"] if pairs else []
    return " and ".join((*swaps, *moves))


def target(wire: Feeder | Bus) -> str:
    """Where a feeder or bus run goes."""
    return str(wire.rail if isinstance(wire, Feeder) else wire.terminal)
