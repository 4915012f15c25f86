"""The fewest probes that show every mistake, by greedy cover, and a bound on how far from the fewest they can be.

A probe is two atoms in a setting. Of the probes that there are only those need be tried that touch the metal which
the most mistakes cut off, with a neighbor along the way or with the component's wire. Greedy cover is never more
than 1 + ln m times the fewest, m the most mistakes that one probe shows (Johnson 1974, Lovász 1975, from memory);
the bound that is told is mostly far better: see `bound`.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator
from functools import cached_property
from typing import NamedTuple

from .alike import Alike
from .components import FullSetting
from .effect import Effect
from .settings import Settings
from .test_points import TestPoints

MANY = 3000
"""Mistakes from which on those that show by what they cut off are not looked at for what they join besides."""


class Probe(NamedTuple):
    """One reading: in the setting `stand`, by number, the meter is put to two conductors and beeps or does not."""

    stand: int
    one: int
    other: int
    beeps: bool


class Bench:
    """All effects of all mistakes in the settings of a sheet: one for each class of those that are alike, by number."""

    def __init__(self, points: TestPoints, settings: Settings, alike: Alike) -> None:
        self.metal, self.stands = metal, stands = settings.metal, settings.stands
        self.points, self.alike, self.many = points, alike, alike.many
        self.touch: dict[int, int] = {}
        """For each atom the conductor where one touches it."""
        for conductor in sorted(points.name, key=points.rank, reverse=True):
            self.touch[metal.atom[conductor]] = conductor
        self.effects = {(s, m): effect for s, known in enumerate(settings.effects) for m, effect in known.items()}
        self.homes = [metal.components(stand) for stand in stands]
        self.hubs = [self._hubs(stand) for stand in stands]

    def _hubs(self, stand: FullSetting) -> dict[int, int]:
        """For each component the atom that is handiest to touch."""
        found: dict[int, int] = {}
        home = self.metal.components(stand)
        for atom in sorted(self.touch, key=lambda one: self.points.rank(self.touch[one])):
            found.setdefault(home[atom], atom)
        return found

    def probe(self, stand: int, one: int, other: int) -> Probe:
        """The probe from one atom to another, the first one being what one comes by first."""
        order, home = self.points.order, self.homes[stand]
        here, there = self.touch[one], self.touch[other]
        if (order[there], there) < (order[here], here):
            here, there = there, here
        return Probe(stand, here, there, home[one] == home[other])

    def shows(self, probe: Probe, mistake: int) -> bool:
        """Whether a mistake, by its own number, makes a probe read otherwise than it should."""
        return self.sees(probe, self.alike.number[mistake])

    def sees(self, probe: Probe, alike: int) -> bool:
        """Whether mistakes of a class make a probe read otherwise than it should."""
        effect = self.effects.get((probe.stand, alike))
        return effect is not None and effect.sees(self.metal.atom[probe.one], self.metal.atom[probe.other])

    def home(self, probe: Probe) -> int:
        """The component that a probe's first end touches."""
        return self.homes[probe.stand][self.metal.atom[probe.one]]

    @cached_property
    def cutting(self) -> dict[tuple[int, int], set[int]]:
        """The classes that cut an atom off, by the setting and the atom."""
        found: dict[tuple[int, int], set[int]] = {}
        for (stand, alike), effect in self.effects.items():
            for part in effect.parts.values():
                for atom in part:
                    found.setdefault((stand, atom), set()).add(alike)
        return found

    def count(self, classes: Iterable[int]) -> int:
        """How many mistakes these classes are."""
        return sum(map(self.many.__getitem__, classes))

    def shown(self) -> dict[Probe, set[int]]:
        """The classes that each probe worth trying shows."""
        found: dict[Probe, set[int]] = {}
        for stand in range(len(self.stands)):
            found |= self._shown_in(stand)
        return found

    def _shown_in(self, stand: int) -> dict[Probe, set[int]]:
        effects = {mistake: effect for (at, mistake), effect in self.effects.items() if at == stand}
        found = {probe: set[int]() for probe in Candidates(self, stand, effects).all()}
        near = Nearness(self, found)
        for mistake, effect in effects.items():
            for probe in near.of(effect):
                if effect.sees(self.metal.atom[probe.one], self.metal.atom[probe.other]):
                    found[probe].add(mistake)
        return found


class Candidates:
    """The probes worth trying in one setting."""

    def __init__(self, bench: Bench, stand: int, effects: dict[int, Effect]) -> None:
        self.bench, self.stand, self.effects = bench, stand, effects
        self.cut_off: Counter[int] = Counter()
        parts, many = dict[int, set[int]](), Counter[int]()
        for alike, effect in effects.items():
            for part in effect.parts.values():
                parts[id(part)] = part
                many[id(part)] += bench.many[alike]
        for number, part in parts.items():
            for atom in part:
                self.cut_off[atom] += many[number]
        self.leaf = {number: self._leaf(part) for number, part in parts.items()}
        """The leaf of each part by its identity: mistakes with the same loss share what it cuts off."""
        self._members: dict[int, list[int]] = {}
        for atom in bench.touch:
            self._members.setdefault(bench.homes[stand][atom], []).append(atom)

    def all(self) -> Iterator[Probe]:
        """Must beep: told-off metal with its neighbors along the way and with its component's hub. Must not: one
        probe for every two parts that a mistake joins; on a large layout only if it shows in no other way."""
        order, touch = self.bench.points.order, self.bench.touch
        by_home: dict[int, list[int]] = {}
        for atom in sorted(set(self.leaf.values()), key=lambda one: (order[touch[one]], one)):
            by_home.setdefault(self.bench.homes[self.stand][atom], []).append(atom)
        for home, atoms in by_home.items():
            hub = self.bench.hubs[self.stand][home]
            yield from self._pairs((atom, hub) for atom in atoms)
            yield from self._pairs((one, other) for i, one in enumerate(atoms) for other in atoms[i + 1 : i + 4])
        is_large = self.bench.count(self.effects) >= MANY
        for effect in self.effects.values():
            pairs = list(effect.split())
            pairs += effect.merged() if not (pairs and is_large) else ()
            yield from self._pairs((self._end(effect, one), self._end(effect, other)) for one, other in pairs)

    def _pairs(self, pairs: Iterable[tuple[int, int]]) -> Iterator[Probe]:
        return (self.bench.probe(self.stand, one, other) for one, other in pairs if one != other)

    def _leaf(self, part: Iterable[int]) -> int:
        """The atom of a part that the most mistakes cut off."""
        order, touch = self.bench.points.rank, self.bench.touch
        return min(part, key=lambda atom: (-self.cut_off[atom], order(touch[atom])))

    def _end(self, effect: Effect, part: int) -> int:
        """Where to touch a part; of a rest its hub, unless the mistake cut that off."""
        if part < 0:
            return self.leaf[id(effect.parts[part])]
        hub = self.bench.hubs[self.stand][part]
        if effect.part(hub) == part:
            return hub
        return next(atom for atom in self._members[part] if effect.part(atom) == part)


class Nearness:
    """Finds the probes that an effect may concern without asking all of them."""

    def __init__(self, bench: Bench, probes: Iterable[Probe]) -> None:
        self.at: dict[int, set[Probe]] = {}
        """Those that must beep, by each end; those that must not lie `between` two components, and are also known by
        each end and the component `beyond`."""
        self.between: dict[tuple[int, int], set[Probe]] = {}
        self.beyond: dict[tuple[int, int], set[Probe]] = {}
        for probe in probes:
            one, other = bench.metal.atom[probe.one], bench.metal.atom[probe.other]
            here, there = bench.homes[probe.stand][one], bench.homes[probe.stand][other]
            if probe.beeps:
                self.at.setdefault(one, set()).add(probe)
                self.at.setdefault(other, set()).add(probe)
            else:
                self.between.setdefault((min(here, there), max(here, there)), set()).add(probe)
                self.beyond.setdefault((one, there), set()).add(probe)
                self.beyond.setdefault((other, here), set()).add(probe)

    def of(self, effect: Effect) -> set[Probe]:
        """Those that must beep with an end in metal that is cut off, and those that must not between what is joined."""
        found: set[Probe] = set()
        for part in effect.parts.values():
            for atom in part:
                found.update(self.at.get(atom, ()))
        for one, other in effect.merged():
            if one >= 0 and other >= 0:
                found.update(self.between.get((min(one, other), max(one, other)), ()))
            for here, there in ((one, other), (other, one)):
                for atom in effect.parts.get(here, ()):
                    found.update(self.beyond.get((atom, effect.home(there)), ()))
        return found
