"""The next probe: the one whose answer tells the most of the explanations that are left apart."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from math import log2
from typing import NamedTuple

from railbond.circuit.graph import Bond

from .continuity import FullSetting
from .diagnosis import Cause, Diagnosis
from .effect import Effect

MOST_CAUSES = 250
MOST_CANDIDATES = 800
LEAST = 1e-9
"""Bits below which an answer tells nothing."""
STARTS = 40
"""Explanations whose own metal is searched for places to probe."""


Pair = tuple[int, int]
Look = Callable[[list[Effect], FullSetting], Iterable[Pair]]


class Next(NamedTuple):
    """Where to probe, in which setting, and how many bits the answer is expected to tell."""

    one: int
    other: int
    stand: FullSetting
    information: float


class Chooser:
    """Chooses probes for one diagnosis."""

    def __init__(self, diagnosis: Diagnosis, stands: Iterable[FullSetting]) -> None:
        self.diagnosis = diagnosis
        self.metal, self.points, self.prediction = diagnosis.metal, diagnosis.points, diagnosis.prediction
        self.stands = [dict(stand) for stand in stands]
        self.touch: dict[int, int] = {}
        for conductor in sorted(self.points.name, key=self.points.rank, reverse=True):
            self.touch[self.metal.atom[conductor]] = conductor

    def best(self, causes: list[Cause]) -> Next | None:
        """The probe of the largest gain among what fits best; None where no probe tells any two of that apart."""
        causes = [one for one in causes if one.misses == causes[0].misses][:MOST_CAUSES]
        for stands, look in ((self.stands, self._likely), (self.stands, self._all), (self._others(causes), self._all)):
            found = max(self._gains(causes, stands, look), key=self._worth, default=None)
            if found and found.information > LEAST:
                return found
        return None

    def _worth(self, one: Next) -> tuple[float, float]:
        apart = abs(self.points.order[one.one] - self.points.order[one.other])
        return round(one.information, 6), -apart

    def _gains(self, causes: list[Cause], stands: Iterable[FullSetting], look: Look) -> Iterator[Next]:
        for stand in stands:
            effects = [self.prediction.effect(cause.mistake, stand) for cause in causes]
            for one, other in look(effects, stand):
                beeps = sum(c.weight for c, effect in zip(causes, effects, strict=True) if effect.joined(one, other))
                share = beeps / sum(cause.weight for cause in causes)
                ends = sorted((self.touch[one], self.touch[other]), key=lambda end: (self.points.order[end], end))
                yield Next(ends[0], ends[1], stand, entropy(share))

    def _likely(self, effects: list[Effect], stand: FullSetting) -> Iterable[Pair]:
        """Pairs of atoms in what single explanations cut off or join."""
        found: dict[Pair, None] = {}
        home = self.metal.components(stand)
        hubs: dict[int, list[int]] = {}
        for atom in sorted(self.touch, key=lambda one: self.points.rank(self.touch[one])):
            hubs.setdefault(home[atom], []).append(atom)
        spread = effects[:: max(1, len(effects) // STARTS)]
        for effect in spread:
            ends = [atom for part in effect.touched() for atom in self._ends(effect, part, hubs)]
            for index, one in enumerate(ends):
                for other in ends[:index]:
                    if one != other:
                        found[min(one, other), max(one, other)] = None
        return list(found)[:MOST_CANDIDATES]

    def _all(self, effects: list[Effect], _: FullSetting) -> Iterable[Pair]:
        """A pair of atoms that tells the first explanation from each other one that any pair tells it from."""
        first = effects[0]
        for effect in effects[1:]:
            pair = self._telling(first, effect) or self._telling(effect, first)
            if pair:
                yield pair

    def _telling(self, one: Effect, other: Effect) -> Pair | None:
        """Two atoms that hang together after one mistake and not after the other."""
        at: dict[int, int] = {}
        for atom in self.metal.atoms:
            mate = at.setdefault(one.root(one.part(atom)), atom)
            if not other.joined(mate, atom):
                return mate, atom
        return None

    def _ends(self, effect: Effect, part: int, hubs: dict[int, list[int]]) -> list[int]:
        """Places to touch a part: its handiest, one in its middle and its last; of a rest, the handiest."""
        if part >= 0:
            return [next(atom for atom in hubs[part] if effect.part(atom) == part)]
        atoms = sorted(effect.parts[part], key=lambda one: self.points.rank(self.touch[one]))
        return list(dict.fromkeys((atoms[0], atoms[len(atoms) // 2], atoms[-1])))

    def _others(self, causes: list[Cause]) -> Iterator[FullSetting]:
        """Settings that are not among the usual ones: one switch thrown of those that the explanations hang on."""
        first = self.stands[0]
        bonds = [bond for cause in causes[:STARTS] for bond in self._bonds(cause)]
        for switch, position in dict.fromkeys(bond.when for bond in bonds if bond.when):
            yield first | {switch: position}

    def _bonds(self, cause: Cause) -> Iterator[Bond]:
        """The bonds at the metal that an explanation is about."""
        graph = self.metal.graph
        ends = {self.metal.atom[end] for number in cause.mistake.lost for end in graph.bonds[number][:2]}
        ends |= {self.metal.atom[end] for bond in cause.mistake.made for end in (bond.one, bond.other)}
        yield from cause.mistake.made
        yield from (graph.bonds[number] for end in ends for number, _, _ in self.metal.ties.get(end, ()))


def entropy(share: float) -> float:
    """Bits that a yes-or-no answer tells whose chance of yes is `share`."""
    if not 0 < share < 1:
        return 0.0
    return -share * log2(share) - (1 - share) * log2(1 - share)
