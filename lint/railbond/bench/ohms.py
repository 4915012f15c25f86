"""About how many ohms a meter reads between two places that are joined."""

from __future__ import annotations

from heapq import heappop, heappush

from railbond.circuit.facts import Facts
from railbond.circuit.graph import Bond
from railbond.circuit.power.copper import resistivity
from railbond.circuit.power.rail import rail_resistivity, usual_code
from railbond.circuit.power.wires import length_of, size_of
from trackplan.span import Span
from trackplan.statements import Bus, Feeder, Segment

from .continuity import Stand, holds

TOUCH = 0.02
"""Ohms of a joiner, a blade or a contact in order: a judgement; dirt makes it more."""


class Ohms:
    """Resistances along the way of least resistance, each rail taken from end to end: a little too high rather than
    too low, as other ways beside it lower what is read."""

    def __init__(self, facts: Facts) -> None:
        self.facts = facts
        self._ties: dict[int, list[tuple[int, Bond, float]]] = {}
        wires: dict[Span, Bus | Feeder] = {one.statement.at: one.statement for one in facts.layout.runs}
        wires |= {one.statement.at: one.statement for one in facts.layout.drops}
        for bond in facts.graph.bonds:
            statement = wires.get(bond.at) if bond.at else None
            size = size_of(facts.layout, statement) if statement else None
            length = length_of(facts.layout, statement) if statement else None
            cost = resistivity(size) * float(length) if size and length else TOUCH
            self._ties.setdefault(bond.one, []).append((bond.other, bond, cost))
            self._ties.setdefault(bond.other, []).append((bond.one, bond, cost))

    def between(self, one: int, other: int, stand: Stand) -> float | None:
        """Ohms between two conductors; None where nothing joins them."""
        best: dict[int, float] = {}
        heap = [(self._rail(one), one)]
        while heap:
            cost, here = heappop(heap)
            if here == other:
                return cost
            if here not in best:
                best[here] = cost
                for there, bond, more in self._ties.get(here, ()):
                    if there not in best and holds(bond, stand):
                        heappush(heap, (cost + more + self._rail(there), there))
        return None

    def _rail(self, conductor: int) -> float:
        """Ohms of a conductor from end to end, where it is plain track."""
        name = self.facts.piece_of(conductor)
        statement = self.facts.layout.pieces[name].statement if name else None
        if not isinstance(statement, Segment):
            return 0.0
        usual = self.facts.layout.rails
        code = statement.code or (usual.code if usual else None) or usual_code(self.facts.layout.scale)
        metal = self.facts.layout.pieces[name].template.metals[conductor - self.facts.wiring.first[name]]
        kind = str(statement.metal or (usual.metal if usual else None) or "nickel-silver")
        return rail_resistivity(float(code), kind) * (metal.stop - metal.start)
