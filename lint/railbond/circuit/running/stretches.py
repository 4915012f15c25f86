"""Stretches between analog and digital track, as trains meet them: dead ones, and those that a switch lends to either.

They are followed as a reverser's sections are. A train that still bridges the cut to the analog track while it bridges
the one to the digital track ties the two systems together.
"""

from __future__ import annotations

from railbond.circuit.proof import Proof
from railbond.circuit.wiring import Wiring

from .reversing import BoundaryCrossing, Sections
from .walking import WalkedTrack


class Stretches(Sections):
    """The stretches between the two systems; `conflicting` are the ways through from one system to the other."""

    def __init__(self, wiring: Wiring, proof: Proof, track: WalkedTrack, alone: frozenset[int] = frozenset()) -> None:
        super().__init__("", wiring, proof, track, alone)

    def disagree(self, one: BoundaryCrossing, other: BoundaryCrossing) -> bool:
        """Whether two crossings lead to different systems."""
        return self._systems(self._outside(one)) != self._systems(self._outside(other))

    def _outside(self, crossing: BoundaryCrossing) -> int:
        return crossing.before if self._carries(crossing.after) else crossing.after

    def _systems(self, conductor: int) -> frozenset[bool]:
        """Whether what a conductor carries is analog; both where a switch lends it to either, none where it is dead."""
        return frozenset(way.source.kind == "analog" for way in self.proof.reachable(conductor))

    def _carries(self, conductor: int) -> bool:
        return len(self._systems(conductor)) != 1
