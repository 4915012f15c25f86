"""Whether a short stands whatever a change does, told without laying out the plan anew.

What a change of statements can part is the bonds of their lines, or of the pieces and wires that they name. Where the
two legs are joined by other bonds that hold in every setting, it cures nothing, so it need not be tried.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from functools import cached_property

from railbond.circuit.facts import Facts
from railbond.circuit.proof import difference
from railbond.circuit.rewire import added
from trackplan.amend import parts_of
from trackplan.span import Span, Word
from trackplan.statements import Bus, Feeder, Statement

Legs = tuple[int, int] | None
"""Two conductors that are one metal, where that is a fault."""


class Standing:
    """Of one plan in which every name is known, as the changes are made of it."""

    def __init__(self, facts: Facts) -> None:
        self.facts = facts
        self.of_metal = len({one.legs for one in facts.layout.supplies.values()}) < 2 and not facts.layout.faults
        """Else a word may name another wire, or another thing, once a line is changed that does not have it."""

    def stands(self, legs: Legs, revised: Facts) -> bool:
        """Whether two conductors stay one metal in every setting; where that cannot be told so, False."""
        if legs is None or not self.of_metal:
            return False
        before, after = self.facts.statements, revised.statements
        old, new = [*added(after, before)], [*added(before, after)]
        lines, parted = {one.at for one in old}, set[int]()
        for one in (*old, *new):
            if not _is_wire(one, old, new):
                parted.update(*(self._named.get(name, ()) for word in _words(one) for name in _owners(word)))
        return self._are_joined(legs, lines, parted)

    def _are_joined(self, legs: tuple[int, int], lines: set[Span], parted: set[int]) -> bool:
        if not parted.isdisjoint(legs):
            return False
        paths = self._paths.setdefault(legs, [])
        if any(parted.isdisjoint(known) and lines.isdisjoint(ats) for known, ats in paths):
            return True
        if self._since and self._since[0][legs[0]] != self._since[0][legs[1]] and self._since[1] <= lines:
            return False
        before: dict[int, tuple[int, Span | None]] = {legs[0]: (legs[0], None)}
        queue, bonds = [legs[0]], self.facts.witness.bonds
        for here in queue:
            for one, there, when, _, at in bonds[here]:
                if there == here:
                    there = one
                if there not in before and when is None and there not in parted and at not in lines:
                    before[there] = here, at
                    queue.append(there)
                    if there == legs[1]:
                        paths.append(_path(before, there))
                        return True
        return False

    @cached_property
    def _since(self) -> tuple[list[int], set[Span | None]] | None:
        """The components of the plan before somebody typed at it, and the lines of all bonds that have come since."""
        known, graph = self.facts.before, self.facts.graph
        if known is None or known.graph.names is not graph.names:
            return None
        return known.proof.component, {bond.at for bond in difference(known.graph.bonds, graph.bonds)[1]}

    @cached_property
    def _paths(self) -> dict[tuple[int, int], list[tuple[set[int], set[Span | None]]]]:
        """The paths between two conductors that are known already: what they run over, and the lines of their bonds."""
        return {}

    @cached_property
    def _named(self) -> dict[str, list[int]]:
        """The conductors of everything that a name stands for: a piece, a place where pieces meet, a supply or
        terminal."""
        found: dict[str, list[int]] = {}
        for piece in self.facts.layout.pieces.values():
            first = self.facts.wiring.first[piece.name]
            own = range(first, first + len(piece.template.metals))
            for name in {name for word in (piece.name, *_words(piece.statement)) for name in _owners(word)}:
                found.setdefault(name, []).extend(own)
        for wire, first in self.facts.wiring.wires.items():
            for name in _owners(wire):
                found.setdefault(name, []).extend((first, first + 1))
        return found


def _path(before: dict[int, tuple[int, Span | None]], there: int) -> tuple[set[int], set[Span | None]]:
    conductors, lines = set[int](), set[Span | None]()
    while there not in conductors:
        conductors.add(there)
        there, at = before[there]
        lines.add(at)
    return conductors, lines


def _is_wire(one: Statement, old: Iterable[Statement], new: Iterable[Statement]) -> bool:
    """Whether a changed statement only solders or runs wires, and so parts nothing but those of its line."""
    if isinstance(one, Bus):
        return {bus.terminal for bus in old if isinstance(bus, Bus)} == {
            bus.terminal for bus in new if isinstance(bus, Bus)
        }
    return isinstance(one, Feeder)


def _words(statement: Statement) -> Iterator[Word]:
    return (part for part in parts_of(statement) if isinstance(part, Word))


def _owners(word: str) -> Iterator[str]:
    """A dotted name and all that it belongs to."""
    while word:
        yield word
        word = word.rpartition(".")[0]
