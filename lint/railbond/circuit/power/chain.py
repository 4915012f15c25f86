"""Where the volts are lost between a supply and a spot: the chain of wires and rails, with the ohms of each.

Of a mesh the chain is the way by which most of the current comes; whatever the way, what is lost along it adds up to
the whole.
"""

from __future__ import annotations

from collections.abc import Iterator

from trackplan.record import NamedTuple
from trackplan.span import Span
from trackplan.typed import Literal

from .field import Frame
from .islands import LEAST_OHMS, Feeding, Islands
from .spots import Side, Spot
from .wires import Statement

Kind = Literal["wire", "rail", "joiner", "contact"]


class Loss(NamedTuple):
    """What one line of the plan takes of a loop's resistance, both legs together."""

    kind: Kind
    at: Span
    wire: Statement | None
    ohms: float


Step = tuple[Kind, Span, Statement | None, float]
Way = tuple[int, float, tuple[Kind, Span, Statement | None]]
"""To another node, by so many ohms."""


def chain(frame: Frame, islands: Islands, spot: Spot) -> list[Loss]:
    """The losses from the supply to the spot and back, one for each line, in the order from the supply."""
    piece = frame.network.wiring.layout.pieces[spot.piece].statement.at
    steps = [step for side in spot.sides for step in ReturnPath(frame, islands, side, spot.meters).steps(piece)]
    found: dict[tuple[str, Span], Loss] = {}
    for kind, at, wire, ohms in steps:
        before = found.get((kind, at))
        found[kind, at] = Loss(kind, at, wire, ohms + (before.ohms if before else 0.0))
    last = found.pop(("rail", piece), None)  # both sides end there, whatever either passes before
    return [*found.values(), *([last] if last else [])]


class ReturnPath:
    """One side of the loop, walked from the spot back to the supply while an ampere flows."""

    def __init__(self, frame: Frame, islands: Islands, side: Side, meters: float) -> None:
        self.frame, self.rail = frame, side.rail
        length = self.rail.stop - self.rail.start
        self.share = (meters - self.rail.start) / length if length else 0.0
        self.feeding: Feeding | None = None
        if frame.sources_at(self.rail.one) is None:
            self.feeding = islands.feeding(self.rail.one, side.reach.setting)
        self.volts = self._volts()

    def _volts(self) -> dict[int, float]:
        drawn = {self.rail.other: self.share}
        drawn[self.rail.one] = drawn.get(self.rail.one, 0.0) * (self.rail.one == self.rail.other) + 1 - self.share
        if self.feeding is None:
            return self.frame.voltages(drawn)
        local = self.feeding.voltages(drawn)
        through = self.feeding.through(local)
        return local | self.frame.voltages(through)

    @property
    def here(self) -> float:
        """Volts lost at the spot: its resistance to the supply."""
        one, other, share = self.rail.one, self.rail.other, self.share
        return (1 - share) * self._at(one) + share * self._at(other) + self.rail.ohms * share * (1 - share)

    def steps(self, piece: Span) -> list[Step]:
        """From the supply to the spot, on the piece of that line."""
        start, ohms = self._into_network()
        found: list[Step] = [("rail", piece, None, ohms)] if ohms else []
        return [*self._back(start, piece), *found]

    def _at(self, node: int) -> float:
        return self.volts.get(node, 0.0)

    def _into_network(self) -> tuple[int, float]:
        """The end of the rail by which most of the current comes, and the volts lost from there to the spot."""
        one, other, share, here = self.rail.one, self.rail.other, self.share, self.here
        flows = {node: (here - self._at(node)) / part for node, part in ((other, 1 - share), (one, share)) if part}
        start = max(flows, key=lambda node: flows[node]) if 0 < share < 1 else other if share else one
        return start, here - self._at(start)

    def _back(self, node: int, piece: Span) -> list[Step]:
        """From a node to its supply, always by what carries most."""
        found: list[Step] = []
        been = {node}
        while node not in self.frame.grounds:
            here = self._at(node)
            fresh = [step for step in self._beside(node, piece) if step[0] not in been]
            if not fresh:  # where two voltages are one to the last digit, the way down is not to be seen
                break
            far, _, (kind, at, wire) = max(fresh, key=lambda step: (here - self._at(step[0])) / step[1])
            been.add(far)
            if kind != "contact" or here - self._at(far) > LEAST_OHMS:
                found.append((kind, at, wire, here - self._at(far)))
            node = far
        return found[::-1]

    def _beside(self, node: int, piece: Span) -> Iterator[Way]:
        """The neighbors of a node by what lies between: a resistor, or a contact that the setting closes."""
        resistors = self.frame.beside[node]
        yield from ((far, one.ohms, (one.kind, one.at, one.wire)) for far, one in resistors)
        known = {far for far, _ in resistors}
        ties = self.feeding.beside.get(node, ()) if self.feeding else ()
        yield from ((far, ohms, ("contact", piece, None)) for far, ohms in ties if far not in known)
