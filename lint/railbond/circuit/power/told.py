"""What a plan tells of its wires and of what guards its supplies, before anything is solved."""

from __future__ import annotations

from collections.abc import Iterable
from functools import cached_property

from railbond.circuit.proof import Proof
from railbond.circuit.wiring import Wiring
from railbond.layout.model import Drop, Run
from trackplan.quantities import Length, WireSize
from trackplan.record import NamedTuple
from trackplan.typed import TYPE_CHECKING

from .guards import Guard, guards, running_load
from .wires import Changes, Sized, Statement, length_of, size_of, sized

if TYPE_CHECKING:  # loaded only where something is worked out
    from .materials import Materials


class NetworkSize(NamedTuple):
    """How much there is of a network."""

    resistors: int = 0
    nodes: int = 0
    pieces: int = 0

    def more(self, other: NetworkSize) -> NetworkSize:
        return NetworkSize(*map(int.__add__, self, other))

    def less(self, other: NetworkSize) -> NetworkSize:
        return NetworkSize(*map(int.__sub__, self, other))


class ToldNetwork:
    """A plan's wires, those of `changes` as they were changed in the head."""

    def __init__(self, wiring: Wiring, proof: Proof, changes: Changes) -> None:
        self.wiring = wiring
        self.layout = wiring.layout
        self.proof = proof
        self.changes = changes

    @cached_property
    def sized(self) -> Sized:
        return sized(self.layout)

    @cached_property
    def unknown(self) -> frozenset[str]:
        """Supplies that have a wire whose size or length the plan does not tell."""
        lacking = set(self.sized.unknown)
        names = {run.source for run in self.layout.runs if run.statement in lacking}
        names |= {drop.wire.name for drop in self.layout.drops if drop.statement in lacking}
        return frozenset(supply for name in names for supply in self.supplies_of(name))

    def supplies_of(self, name: str) -> set[str]:
        """The supplies that reach a supply or terminal by wire."""
        base = self.wiring.wires[name]
        return {way.source.supply for leg in (0, 1) for way in self.proof.reachable(base + leg)}

    def network_drops(self) -> list[Drop]:
        """The plan's drops, and those that were added in the head."""
        return [*self.layout.drops, *(drop for drop, _, _ in self.changes.drops)]

    def wire_of(self, wire: Statement) -> tuple[WireSize | None, Length | None]:
        """The size and length of a bus run or feeder, where the plan tells them."""
        return size_of(self.layout, wire), length_of(self.layout, wire)

    @cached_property
    def guards(self) -> dict[str, Guard]:
        return guards(self.layout)

    @cached_property
    def load(self) -> float | None:
        """Amperes that run at one place at the worst, where the plan tells."""
        return running_load(self.layout)

    @cached_property
    def materials(self) -> Materials:
        from .materials import materials

        return materials(self.layout)

    def running(self, supply: str) -> float | None:
        """The load that may stand at one place of a supply: no more than its breaker lets through."""
        guard = self.guards.get(supply)
        return None if self.load is None or guard is None else min(self.load, float(guard.passes))

    @cached_property
    def supplies_by_wire(self) -> dict[Statement, frozenset[str]]:
        """The supplies behind each bus run and feeder."""
        return self._behind(self.layout.runs, self.layout.drops)

    def _behind(self, runs: Iterable[Run], drops: Iterable[Drop]) -> dict[Statement, frozenset[str]]:
        wires: dict[int, tuple[Statement, str]] = {id(run.statement): (run.statement, run.source) for run in runs}
        wires |= {id(drop.statement): (drop.statement, drop.wire.name) for drop in drops}
        supplies = {
            name: frozenset(self.supplies_of(name)) for name in dict.fromkeys(name for _, name in wires.values())
        }
        return {wire: supplies[name] for wire, name in wires.values()}
