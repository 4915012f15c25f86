"""The lines of drops and of the bus runs to them."""

from __future__ import annotations

from typing import NamedTuple

from railbond.circuit.facts import Facts
from railbond.layout.limits import limit

from .bus_runs import FIRST, BusTerminal, terminals
from .draft import Draft, WrittenLine, in_words
from .drops import NewDrop
from .orientation import Orientation, Territory
from .wishes import WiringWishes

SPARE_LENGTH = 0.2
"""Meters of a drop from a terminal under the track up to the rail."""


class CopperTrial(NamedTuple):
    """One way to lay the copper: drops at a share of the spacing limit, and how thick bus runs and drops are."""

    share: float = 1.0
    bus: int = 0
    drop: int = 0


TRIALS = (
    CopperTrial(), CopperTrial(1.0, 1), CopperTrial(1.0, 1, 1), CopperTrial(1.0, 2, 1), CopperTrial(0.7, 1, 1),
    CopperTrial(0.7, 2, 2), CopperTrial(0.5, 2, 2), CopperTrial(0.35, 2, 2), CopperTrial(0.2, 2, 2),
)  # fmt: skip
"""The cheapest first: thicker runs before more drops."""
BEYOND = (0.0, 1.0, 3.0)
"""By how many mm2 each of the runs is thicker than usual, about."""
CARRIES = (1.0, 1.6, 2.5)
"""How many times as much as the thinnest run each of the thicker ones carries, a gauge up or two."""


def solder(draft: Draft, wishes: WiringWishes, owners: Territory, trial: CopperTrial, found: list[BusTerminal]) -> None:
    """Writes pairs of drops and the bus runs to them."""
    facts = draft.facts
    orientation = Orientation(facts, owners)
    pair = _PairWriter(facts, orientation, wishes, trial)
    buses = [line for terminal in found if (line := pair.bus(terminal))]
    order = {name: number for number, name in enumerate(facts.layout.pieces)}
    own = [
        (order[drop.site.piece], drop.site.place, pair.drops(terminal, drop, meters))
        for terminal in found
        for drop, meters in terminal.drops
    ]
    draft.write(*buses, *(line for _, _, line in sorted(own, key=lambda one: one[:2])))


def terminals_of(facts: Facts, drops: list[NewDrop]) -> list[BusTerminal]:
    """The terminals from which pairs of drops come, however thick the copper is."""
    return terminals(facts, drops, _names(facts))


def _names(facts: Facts) -> set[str]:
    """The names that are taken."""
    return {str(getattr(one, name)) for one in facts.statements for name in ("name", "terminal") if hasattr(one, name)}


class _PairWriter(NamedTuple):
    facts: Facts
    orientation: Orientation
    wishes: WiringWishes
    trial: CopperTrial

    def bus(self, terminal: BusTerminal) -> WrittenLine | None:
        """The run to a terminal; None for one that is there already."""
        if not terminal.source:
            return None
        size = "" if limit(self.facts.layout, "bus-size") else f"  {self.wishes.bus_sizes[self.trial.bus]}"
        source, long = terminal.source.rpartition(".")[2], self.wishes.lengths.words(self._bus_meters(terminal))
        pieces = in_words(list(dict.fromkeys(drop.site.piece for drop, _ in terminal.drops)))
        why = f"a terminal at {pieces}, {long} from {source} along the benchwork"
        return WrittenLine(f"bus {source} -> {terminal.name}  {long}{size}", why, terminal.name)

    def _bus_meters(self, terminal: BusTerminal) -> float:
        lengths = self.wishes.lengths
        return lengths.up(lengths.first if terminal.length == FIRST else terminal.length, lengths.bus)

    def drops(self, terminal: BusTerminal, drop: NewDrop, meters: float) -> WrittenLine:
        """A pair of drops from a terminal."""
        layout, name = self.facts.layout, drop.site.piece
        known = limit(layout, "feeder-size") and limit(layout, "feeder-length")
        length = self.wishes.lengths.up(SPARE_LENGTH + meters, self.wishes.lengths.drop)
        size = "" if known else f"  {self.wishes.drop_sizes[self.trial.drop]}  {self.wishes.lengths.words(length)}"
        crossed = "  crossed" if self.orientation.crosses(terminal.name, name) else ""
        wire, piece = terminal.name.rpartition(".")[2], name.rpartition(".")[2]
        at = self.wishes.lengths.words(drop.site.place)
        why = f"{drop.why}; it comes from {drop.supply}"
        return WrittenLine(f"feeder {wire} -> {piece}  at {at}{size}{crossed}", why, name)
