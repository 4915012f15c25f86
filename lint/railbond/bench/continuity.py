"""What a meter finds joined, with every supply unplugged, and how a mistake changes that.

Bonds that hold in every setting and that no mistake takes away are contracted: what is left are *atoms*, lengths of
metal that are one whatever was done wrong. In a setting atoms fall into *components*. A mistake changes that only
where it is: what it cuts off is found by walking from both sides of the lost bond at once, so that the work is that
of the smaller side.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Collection, Iterable, Mapping

from railbond.circuit.graph import Bond, Literal, RailGraph

from .components import Blocks, Components, FullSetting, join, root
from .effect import Effect
from .mistake import Mistake

NOTHING_SET: FullSetting = {}
"""In which only what holds in every setting does."""
KEPT = 250_000
"""Switches in all the settings of which it is remembered what stands for them, and what their components are."""


class Continuity:
    """The atoms of a rail graph, and their components in any setting."""

    def __init__(
        self, graph: RailGraph, mistakes: Iterable[Mistake], taken: Mapping[str, frozenset[int]] | None = None
    ) -> None:
        """`taken` are the bonds that go with each thing that a setting may tell to be off, beside its switches."""
        self.graph = graph
        self.taken = dict(taken or {})
        self.loose = {number for mistake in mistakes for number in mistake.lost}
        self.loose.update(*self.taken.values())
        self.atom = _contracted(graph, self.loose)
        self.ties: dict[int, list[tuple[int, int, Literal | None]]] = {}
        for number, bond in enumerate(graph.bonds):
            one, other = self.atom[bond.one], self.atom[bond.other]
            if one != other:
                self.ties.setdefault(one, []).append((number, other, bond.when))
                self.ties.setdefault(other, []).append((number, one, bond.when))
        self.atoms = sorted(set(self.atom))
        self._blocks = self._in_blocks()
        self._labels: dict[frozenset[Literal], Components] = {}
        self._keys: dict[int, tuple[FullSetting, frozenset[Literal]]] = {}
        self._losses: dict[tuple[int, ...], list[set[int]]] = {}
        self._always_losses: dict[tuple[int, ...], list[set[int]]] = {}
        self._loss_stand: Components | None = None
        self._last: tuple[FullSetting, Components] | None = None

    def components(self, stand: FullSetting) -> Components:
        """The component of each atom, named by its first atom. `stand` is not changed once it was asked about."""
        last = self._last
        if last is None or last[0] is not stand:
            last = self._last = stand, self._components(stand)
        return last[1]

    def _components(self, stand: FullSetting) -> Components:
        key = self.key(stand)
        if key not in self._labels:
            if len(self._labels) * len(key) > KEPT:
                del self._labels[next(iter(self._labels))]
            self._labels[key] = self._blocks.components(stand, self.gone(stand))
        return self._labels[key]

    def key(self, stand: FullSetting) -> frozenset[Literal]:
        """What stands for a setting, which is not changed once it was asked about."""
        known = self._keys.get(id(stand))
        if known is None or known[0] is not stand:
            if len(self._keys) * len(stand) > KEPT:
                self._keys.clear()
            known = self._keys[id(stand)] = stand, frozenset(stand.items())
        return known[1]

    def gone(self, stand: FullSetting) -> frozenset[int]:
        """The bonds that are taken off in a setting."""
        if not self.taken:
            return frozenset()
        names = self.taken.keys() & stand.keys()
        return frozenset().union(*(self.taken[name] for name in names)) if names else frozenset()

    def _in_blocks(self) -> Blocks:
        """For each atom the first one that it hangs together with in every setting, whatever is taken off."""
        taken = frozenset[int]().union(*self.taken.values())
        always: list[tuple[int, int]] = []
        switched: dict[Literal, list[tuple[int, int]]] = {}
        removable: dict[int, tuple[int, int]] = {}
        for number, bond in enumerate(self.graph.bonds):
            ends = self.atom[bond.one], self.atom[bond.other]
            if bond.when is not None:
                switched.setdefault(bond.when, []).append(ends)
            elif number in taken:
                removable[number] = ends
            else:
                always.append(ends)
        return Blocks(len(self.atom), always, switched, removable)

    def effect(self, mistake: Mistake, stand: FullSetting) -> Effect:
        """What a mistake does to the components in a setting."""
        home = self.components(stand)
        bonds = [bond for one in mistake.both or (mistake,) for bond in self._made(one, stand)]
        made = [(self.atom[bond.one], self.atom[bond.other]) for bond in bonds if holds(bond, stand)]
        return Effect(home, self._parted(mistake.lost, stand, home), made)

    def _made(self, mistake: Mistake, stand: FullSetting) -> Iterable[Bond]:
        """What a mistake joins. A wire that is off is off, wherever the mistake led it."""
        gone = self.gone(stand)
        if not gone or not mistake.lost:
            return mistake.made
        if len(mistake.made) == len(mistake.lost):
            pairs = zip(mistake.lost, mistake.made, strict=True)
            return [bond for number, bond in pairs if number not in gone or bond.kind == "joint"]
        return [bond for bond in mistake.made if bond.kind == "joint" or not gone.issuperset(mistake.lost)]

    def _parted(self, lost: tuple[int, ...], stand: FullSetting, home: Components) -> list[set[int]]:
        """What the loss of some bonds cuts off. Many mistakes begin with the same loss, so the last ones are kept."""
        if self._loss_stand is not home and stand:
            self._losses, self._loss_stand = {}, home
        known = self._losses if stand else self._always_losses
        if lost not in known:
            ends: dict[int, list[int]] = {}
            off = self.gone(stand)
            for bond in (self.graph.bonds[number] for number in lost if number not in off):
                if holds(bond, stand):
                    for end in (bond.one, bond.other):
                        ends.setdefault(home[self.atom[end]], []).append(self.atom[end])
            gone = off.union(lost)
            parts = (self._cut_off(dict.fromkeys(seeds), gone, stand) for seeds in ends.values())
            known[lost] = [part for several in parts for part in several]
        return known[lost]

    def cut_off(self, lost: tuple[int, ...]) -> list[set[int]]:
        """What the loss of some bonds cuts off, as far as bonds that always hold go."""
        return self._parted(lost, NOTHING_SET, self.components(NOTHING_SET))

    def held_otherwise(self, lost: tuple[int, ...]) -> bool:
        """Whether all that some bonds join is joined in another way by bonds that always hold."""
        conditional = any(self.graph.bonds[number].when is not None for number in lost)
        return not conditional and not self.cut_off(lost)

    def _cut_off(self, seeds: Collection[int], gone: frozenset[int], stand: FullSetting) -> list[set[int]]:
        """The parts into which metal falls, but for the one that is reached last."""
        walks = {seed: Walk(seed) for seed in seeds}
        owner = {seed: walks[seed] for seed in seeds}
        running = list(walks.values())
        while len(running) > 1:
            for walk in running:
                if walk.queue:
                    self._step(walk, owner, gone, stand)
            running = [walk for walk in running if walk.queue and walk.root() is walk]
        ends = [one for one in walks.values() if one.root() is one]
        last = running[0] if running else max(ends, key=lambda one: len(one.seen))
        return [one.seen for one in ends if one is not last]

    def _step(self, walk: Walk, owner: dict[int, Walk], gone: frozenset[int], stand: FullSetting) -> None:
        for number, there, when in self.ties.get(walk.queue.popleft(), ()):
            if number in gone or (when is not None and stand.get(when[0]) != when[1]):
                continue
            other = owner.get(there)
            if other is None:
                owner[there] = walk
                walk.seen.add(there)
                walk.queue.append(there)
            elif other.root() is not walk.root():
                walk.root().take(other.root())
                walk = walk.root()


class Walk:
    """One walk over metal from a seed; walks that meet become one."""

    def __init__(self, seed: int) -> None:
        self.seen = {seed}
        self.queue = deque((seed,))
        self._into: Walk | None = None

    def root(self) -> Walk:
        """The walk that this one has become part of."""
        here = self
        while here._into is not None:
            here = here._into
        return here

    def take(self, other: Walk) -> None:
        """Goes on for the other walk as well."""
        other._into = self
        self.seen |= other.seen
        self.queue.extend(other.queue)
        other.queue.clear()


def holds(bond: Bond, stand: FullSetting) -> bool:
    """Whether a bond holds while the switches stand so."""
    return bond.when is None or stand.get(bond.when[0]) == bond.when[1]


def _contracted(graph: RailGraph, loose: set[int]) -> list[int]:
    """The atom of each conductor, named by its first conductor."""
    parent = list(range(len(graph.names)))
    for number, bond in enumerate(graph.bonds):
        if bond.when is None and number not in loose:
            join(parent, bond.one, bond.other)
    return [root(parent, one) for one in range(len(parent))]
