"""Whether a rail has power under a wheel, with the points as a train finds them."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import product

from railbond.circuit.graph import Setting, agree
from railbond.circuit.proof import Proof

MOST_SETTINGS = 256
"""Settings of the other turnouts that are tried for one stretch of track; beyond, what may be dead counts as dead."""


class LiveRails:
    """Asks a proof about settings. What lies in `healed`, faults that are told already, counts as fed."""

    def __init__(self, proof: Proof, healed: Iterable[int] = ()) -> None:
        self.proof = proof
        self.healed = frozenset(healed)
        self._live: dict[tuple[int, Setting], bool] = {}

    def live(self, conductor: int, setting: Setting) -> bool:
        """Whether a conductor has a source however the switches stand that the setting leaves open."""
        key = conductor, setting
        if key not in self._live:
            ways = self.proof.reachable(conductor)
            self._live[key] = conductor in self.healed or any(way.setting <= setting for way in ways)
        return self._live[key]

    def settings(self, conductors: Iterable[int], setting: Setting) -> Iterator[Setting]:
        """The setting, and each way to set the other switches on which the power of some conductors hangs."""
        switches = sorted(self._undecided(conductors, setting))
        known = self.proof.graph.positions
        positions = [[(switch, at) for at in known.get(switch, ())] or [(switch, "")] for switch in switches]
        count = 1
        for choice in positions:
            count *= len(choice)
        if count > MOST_SETTINGS:
            yield setting
        else:
            yield from (setting.union(choice) for choice in product(*positions))

    def _undecided(self, conductors: Iterable[int], setting: Setting) -> set[str]:
        known = {switch for switch, _ in setting}
        ways = (way for one in conductors if not self.live(one, setting) for way in self.proof.reachable(one))
        allowed = (way.setting for way in ways if agree(way.setting | setting))
        return {switch for way in allowed for switch, _ in way} - known
