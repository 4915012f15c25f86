"""The places where a probe is worth trying: the metal that explanations are about, touched where it is handiest."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from .components import FullSetting
from .continuity import Continuity
from .effect import Effect
from .removable import Removable, what_is_off
from .test_points import TestPoints

MOST_CANDIDATES = 120
STARTS = 24
"""Explanations whose own metal is searched for places to probe."""
Pair = tuple[int, int]


class ProbePlaces:
    """Where each atom is touched."""

    def __init__(self, metal: Continuity, points: TestPoints, removable: Mapping[str, Removable]) -> None:
        self.metal, self.points, self.removable = metal, points, removable
        self.touch: dict[int, int] = {}
        for conductor in sorted(points.name, key=points.rank, reverse=True):
            self.touch[metal.atom[conductor]] = conductor
        self._by_rank = sorted(self.touch, key=lambda one: points.rank(self.touch[one]))

    def likely(self, effects: list[Effect], stand: FullSetting) -> Iterable[Pair]:
        """Pairs of atoms in what single explanations cut off or join."""
        found: dict[Pair, None] = {}
        home, free = self.metal.components(stand), set(what_is_off(stand))
        bare = {self.metal.atom[end] for name in free for end in self.removable[name].bare}
        hubs: dict[int, list[int]] = {}
        for atom in self._by_rank:
            if self.touch[atom] not in self.points.bare or atom in bare:
                hubs.setdefault(home[atom], []).append(atom)
        for effect in effects[:: max(1, len(effects) // STARTS)]:
            ends = [atom for part in effect.touched() for atom in self._ends(effect, part, hubs)]
            for index, one in enumerate(ends):
                for other in ends[:index]:
                    if one != other:
                        found[min(one, other), max(one, other)] = None
            if len(found) > MOST_CANDIDATES:
                break
        return list(found)[:MOST_CANDIDATES]

    def _ends(self, effect: Effect, part: int, hubs: Mapping[int, list[int]]) -> list[int]:
        """ProbePlaces to touch a part: its handiest, one in its middle and its last; of a rest, the handiest."""
        if part >= 0:
            return [atom for atom in hubs.get(part, ()) if effect.part(atom) == part][:1]
        atoms = [one for one in effect.parts[part] if self.touch[one] not in self.points.bare]
        atoms.sort(key=lambda one: self.points.rank(self.touch[one]))
        return list(dict.fromkeys((atoms[0], atoms[len(atoms) // 2], atoms[-1]))) if atoms else []
