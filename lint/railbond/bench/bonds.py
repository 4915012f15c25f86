"""Where each wire, contact and bond of a layout is in its rail graph."""

from __future__ import annotations

from collections.abc import Iterable

from railbond.circuit.graph import Bond, Literal
from railbond.circuit.wiring import Wiring
from railbond.layout.model import Drop, Wire
from trackplan.span import Span


class Bonds:
    """The numbers of bonds, by what they join."""

    def __init__(self, wiring: Wiring) -> None:
        self.wiring = wiring
        self.graph = wiring.graph
        self._numbers: dict[tuple[frozenset[int], Literal | None, Span | None], int] = {}
        self._at: dict[Span | None, list[tuple[int, Bond]]] = {}
        self._others: dict[Wire, list[Wire]] = {}
        for number, bond in enumerate(self.graph.bonds):
            self._numbers[frozenset((bond.one, bond.other)), bond.when, bond.at] = number
            self._at.setdefault(bond.at, []).append((number, bond))

    def at(self, at: Span) -> list[tuple[int, Bond]]:
        """The bonds that a line of the plan asks for, with their numbers."""
        return self._at.get(at, [])

    def number(self, one: int, other: int, when: Literal | None, at: Span | None) -> int | None:
        """The bond between two conductors that a line of the plan asks for."""
        return self._numbers.get((frozenset((one, other)), when, at))

    def of_drop(self, drop: Drop) -> tuple[int, ...]:
        """The bonds of a drop: one, or one for each position in which its contacts are closed."""
        mover, positions = drop.when or ("", ())
        whens = [self.wiring.literal(mover, position) for position in positions] if drop.when else [None]
        ends = self.wiring.wire(drop.wire), self.wiring.metal(drop.piece, drop.metal)
        found = (self.number(*ends, when, drop.statement.at) for when in whens)
        return tuple(one for one in found if one is not None)

    def moved(self, numbers: Iterable[int], old: int, new: int) -> tuple[Bond, ...]:
        """Those bonds, with their end at one conductor put on another."""
        return tuple([_moved(self.graph.bonds[number], old, new) for number in numbers])

    def name(self, conductor: int) -> str:
        """A conductor in words."""
        return self.graph.names[conductor]

    def others(self, wire: Wire) -> list[Wire]:
        """The same leg of every supply that this wire does not hang on."""
        if wire not in self._others:
            mine = self._supplies(wire.name)
            self._others[wire] = [Wire(name, wire.leg) for name in self.wiring.layout.supplies if name not in mine]
        return self._others[wire]

    def _supplies(self, name: str) -> set[str]:
        """The supplies from which bus runs lead to a terminal."""
        found, queue = {name}, [name]
        for here in queue:
            for run in self.wiring.layout.runs:
                if run.terminal == here and run.source not in found:
                    found.add(run.source)
                    queue.append(run.source)
        return found


def _moved(bond: Bond, old: int, new: int) -> Bond:
    if bond.one == old:
        return Bond(new, *bond[1:])
    return Bond(bond.one, new, *bond[2:]) if bond.other == old else bond
