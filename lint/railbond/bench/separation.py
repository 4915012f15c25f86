"""Tells two mistakes apart that no reading parts as things are: what joins their metal in another way comes off."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping

from .components import FullSetting
from .continuity import Continuity, holds
from .effect import Effect
from .mistake import Mistake
from .removable import off, what_is_off

MOST_OFF = 40
MOST_SETTINGS = 24
Found = tuple[dict[str, str], tuple[int, int]]


class Separation:
    """`carried` tells for each bond the thing that it goes off with."""

    def __init__(self, metal: Continuity, carried: Mapping[int, str]) -> None:
        self.metal, self.carried = metal, carried

    def of(self, one: Mistake, other: Mistake, now: FullSetting, stands: Iterable[FullSetting]) -> Found | None:
        """A setting with as little more off as was found to do, and two atoms that read differently there; None
        where there is no such thing, whatever is off and however the points around stand."""
        taken = off(what_is_off(now))
        for stand in self._settings(one, other, now, stands):
            found = self._in({**stand, **taken}, one, other) or (taken and self._in(dict(stand), one, other))
            if found:
                return found
        return None

    def _settings(
        self, one: Mistake, other: Mistake, now: FullSetting, stands: Iterable[FullSetting]
    ) -> Iterator[dict[str, str]]:
        """As things stand, as the sheet has them, and with the switches beside the two mistakes thrown."""
        plain = {name: at for name, at in now.items() if name in self.metal.graph.positions}
        found = {frozenset(stand.items()): dict(stand) for stand in (plain, *stands)}
        for mistake in (one, other):
            for switch in self._beside(mistake):
                for stand in [plain, *list(found.values())[:4]]:
                    for at in self.metal.graph.positions.get(switch, ()):
                        thrown = {**stand, switch: at}
                        found[frozenset(thrown.items())] = thrown
        yield from list(found.values())[:MOST_SETTINGS]

    def _beside(self, mistake: Mistake) -> list[str]:
        """The switches whose bonds lie at a mistake's metal."""
        graph = self.metal.graph
        bonds = [*(graph.bonds[number] for number in mistake.lost), *mistake.made]
        ends = {self.metal.atom[end] for bond in bonds for end in (bond.one, bond.other)}
        near = [when for end in ends for _, _, when in self.metal.ties.get(end, ())]
        return list(dict.fromkeys(when[0] for when in [*(bond.when for bond in bonds), *near] if when))

    def _in(self, stand: dict[str, str], one: Mistake, other: Mistake) -> Found | None:
        """Takes off, one by one, what lies on another way between the ends of what the two mistakes change."""
        for first, second in ((one, other), (other, one)):
            here = dict(stand)
            mine = {self.carried[number] for number in first.lost if number in self.carried}
            for _ in range(MOST_OFF):
                effects = self.metal.effect(first, here), self.metal.effect(second, here)
                pair = self._telling(*effects) or self._telling(*reversed(effects))
                if pair:
                    return here, pair
                name = self._in_the_way(first, here, mine)
                if not name:
                    break
                here = {**here, **off((name,))}
        return None

    def _telling(self, one: Effect, other: Effect) -> tuple[int, int] | None:
        """Two atoms that hang together after one mistake and not after the other."""
        at: dict[int, int] = {}
        for atom in self.metal.atoms:
            mate = at.setdefault(one.root(one.part(atom)), atom)
            if not other.joined(mate, atom):
                return mate, atom
        return None

    def _in_the_way(self, mistake: Mistake, stand: FullSetting, mine: set[str]) -> str:
        """Something that can come off on a way which joins the ends of what a mistake loses or makes, besides its own
        metal; joiners of rails only where there is nothing else."""
        bonds = [*(self.metal.graph.bonds[number] for number in mistake.lost), *mistake.made]
        for bond in bonds:
            if holds(bond, stand):
                way = self._way(self.metal.atom[bond.one], self.metal.atom[bond.other], mistake, stand)
                names = dict.fromkeys(self.carried[number] for number in way if number in self.carried)
                found = sorted((name for name in names if name not in mine), key=lambda name: name.startswith("joiner"))
                if found:
                    return found[0]
        return ""

    def _way(self, start: int, stop: int, mistake: Mistake, stand: FullSetting) -> list[int]:
        """The bonds of the shortest way between two atoms without those that a mistake loses."""
        gone = self.metal.gone(stand).union(mistake.lost)
        came: dict[int, tuple[int, int]] = {start: (start, -1)}
        queue = [start]
        for here in queue:
            for number, there, when in self.metal.ties.get(here, ()):
                if number not in gone and there not in came and (when is None or stand.get(when[0]) == when[1]):
                    came[there] = here, number
                    queue.append(there)
        way, here = list[int](), stop
        while here in came and here != start:
            here, number = came[here]
            way.append(number)
        return way
