"""About how many ohms a meter reads between two places that are joined."""

from __future__ import annotations

from heapq import heappop, heappush

from railbond.circuit.facts import Facts
from railbond.circuit.graph import Bond
from railbond.circuit.power.materials import materials
from railbond.circuit.power.wires import length_of, size_of
from trackplan.span import Span
from trackplan.statements import Bus, Feeder

from .components import FullSetting
from .continuity import holds

BEEPS = 30.0
"""Ohms below which a cheap meter beeps; some do up to 50 or 70 (common practice, from many meters' leaflets)."""


class Ohms:
    """Resistances along the way of least resistance, each rail taken from end to end: a little too high rather than
    too low, as other ways beside it lower what is read."""

    def __init__(self, facts: Facts) -> None:
        self.facts = facts
        self.materials = materials(facts.layout)
        self._wires: dict[Span, Bus | Feeder] = {one.statement.at: one.statement for one in facts.layout.runs}
        self._wires |= {one.statement.at: one.statement for one in facts.layout.drops}
        self._rails: dict[int, float] = {}
        self._ties: dict[int, list[tuple[int, Bond, float]]] = {}
        for bond in facts.graph.bonds:
            cost = self._bond(bond)
            self._ties.setdefault(bond.one, []).append((bond.other, bond, cost))
            self._ties.setdefault(bond.other, []).append((bond.one, bond, cost))

    def between(self, one: int, other: int, stand: FullSetting) -> float | None:
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

    def _bond(self, bond: Bond) -> float:
        """Ohms of a joiner, a contact, a blade's touch or a wire; of a wire of unknown size or length, none."""
        if bond.kind == "joint":
            return self.materials.joiner
        contact = self.materials.contact if bond.kind in ("contact", "touch") else 0.0
        wire = self._wires.get(bond.at) if bond.at else None
        size = size_of(self.facts.layout, wire) if wire else None
        length = length_of(self.facts.layout, wire) if wire else None
        return contact + (self.materials.wire(size, float(length)) if size and length else 0.0)

    def _rail(self, conductor: int) -> float:
        """Ohms of a conductor from end to end, where it is plain track."""
        if conductor not in self._rails:
            self._rails[conductor] = self._from_end_to_end(conductor)
        return self._rails[conductor]

    def _from_end_to_end(self, conductor: int) -> float:
        name = self.facts.piece_of(conductor)
        piece = self.facts.layout.pieces[name] if name else None
        if piece is None or not piece.template.is_plain:
            return 0.0
        metal = piece.template.metals[conductor - self.facts.wiring.first[name]]
        return self.materials.rail(piece) * (metal.stop - metal.start)
