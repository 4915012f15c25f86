"""What every conductor carries, in every setting of the switches, found without walking the settings.

Bonds that always hold are contracted: what they join is one *component*. A component with a fixed source ends every
path, so what is left falls into small islands of components tied by blades and contacts. Within an island it is found
what each component can *reach*: a source, and under which assumptions, the least setting in which it does
(reachability under assumptions). A component's potential in a setting is then the sources that it reaches in it, and
every question about some setting is asked of pairs of these. An island that takes more steps than the budget is named
in `unproven`, and its answers are partial.

Finding a path whose conditions agree is hard in general (paths that avoid forbidden pairs: Gabow, Maheshwari and
Osterweil 1976, from memory); islands of real track are small.
"""

from __future__ import annotations

from collections import Counter, deque
from collections.abc import Callable, Iterable, Iterator, Sequence
from functools import cached_property

from trackplan.record import NamedTuple, new
from trackplan.reread import shared_end, shared_start

from .graph import Bond, RailGraph, Setting, SupplyLeg, agree, contract
from .ties import Tie, tied, tied_again

BUDGET = 50_000
"""Steps that one island may take unless the plan's `limit proof-steps` says otherwise: far above what track needs."""

STEPS = 40
"""Steps of the proof in one of effort."""


class Reachable(NamedTuple):
    """A source that a component reaches, and the least setting in which it does."""

    source: SupplyLeg
    setting: Setting


class Island(NamedTuple):
    """Components that were looked at together, all that they and what ends their paths are, the steps that it took,
    and their switches where these were too many."""

    members: tuple[int, ...]
    around: tuple[int, ...]
    steps: int
    unproven: frozenset[str] | None


class Proof:
    """Components and islands of a rail graph, and what each reaches. `holds` chooses the bonds (all, unless said), and
    `like` is the proof of all of them, where that is known. `before` is the proof of a graph that differs in a few:
    what these do not touch is taken over from it. `metal` tells what is one metal, where that is known. All that is
    said hangs on the graph alone, whoever asks first, and so does `effort`, the steps of effort that it takes to look
    at every island."""

    def __init__(
        self,
        graph: RailGraph,
        holds: Callable[[Bond], bool] | None = None,
        budget: int = BUDGET,
        like: Proof | None = None,
        before: Proof | None = None,
        metal: Sequence[int] | None = None,
    ) -> None:
        self.before = before
        self.graph = graph
        self.budget = budget
        known = before if before and before.budget == budget and before.graph.names is graph.names else None
        gone, come = difference(known.graph.bonds, graph.bonds) if known else ((), graph.bonds)
        changed = [*gone, *come]
        bonds = graph.bonds if holds is None else [bond for bond in graph.bonds if holds(bond)]
        self.component = self._contracted(bonds, known or like, changed if known else bonds, metal)
        is_alike = known is not None and known.component is self.component
        self.sources: dict[int, dict[SupplyLeg, None]] = {}
        self._ends_paths: set[int]
        """The components beyond which no path leads."""
        if known and is_alike and known.graph.sources is graph.sources:
            self.sources, self._ends_paths = known.sources, known._ends_paths
        else:
            for conductor, source in graph.sources.items():
                self.sources.setdefault(self.component[conductor], {})[source] = None
            self._ends_paths = {one for one, found in self.sources.items() if any(map(_is_fixed, found))}
        self.ties: dict[int, list[Tie]]
        if known and is_alike and _always(changed) == len(changed):
            self.ties = known.ties
        elif known and is_alike:
            self.ties = tied_again(known.ties, self.component, gone, come)
        else:
            self.ties = tied(self.component, bonds)
        self.pairs: dict[object, Sequence[Setting]] = {}
        """What was asked of two components, for whoever asks again: see `across.together`."""
        self._reachable: dict[int, list[Reachable]] = {}
        self._islands: list[Island] = []
        self.is_before = known is not None and is_alike and (self.sources, self.ties) == (known.sources, known.ties)
        """Whether it says all that the proof before says."""
        self.changed: set[int] | None = self._take_over(known) if known and not self.is_before else None
        """The components of which something else may be so than in the proof before; None where none is known."""

    def _contracted(
        self, bonds: Sequence[Bond], known: Proof | None, changed: Sequence[Bond], metal: Sequence[int] | None
    ) -> list[int]:
        """The component of each conductor: those of a proof that is known, where they are the same."""
        if known is None:
            return contract(len(self.graph.names), bonds, metal)
        is_alike = not _always(changed) if known is self.before else _always(bonds) == _always(self.graph.bonds)
        found = known.component if is_alike else contract(len(self.graph.names), bonds, metal)
        return known.component if found == known.component else found

    def _take_over(self, before: Proof) -> set[int]:
        """Takes over the islands of another proof that are as they were."""
        touched = {one for one, found in self.sources.items() if before.sources.get(one) != found}
        touched.update(one for one in before.sources if one not in self.sources)
        tied = (one for one, found in self.ties.items() if before.ties.get(one) != found)
        touched.update(one for one in tied if one not in self._ends_paths)
        touched.update(one for one in before.ties if one not in self.ties)
        for island in before._islands:
            if touched.isdisjoint(island.around):
                self._islands.append(island)
                self._reachable |= {one: before._reachable[one] for one in island.members}
        new = (one for one in self.ties if one not in self._reachable and one not in self._ends_paths)
        return touched.union(new)

    def is_that_of(self, other: Proof) -> bool:
        """Whether it says all that another proof says, of a graph of the same conductors."""
        said = ((one.budget, one.graph.sources, one.component, one.ties) for one in (self, other))
        return self.graph.names is other.graph.names and next(said) == next(said)

    def is_as_before(self, conductor: int) -> bool:
        """Whether a conductor reaches what it did in the proof before, by a component of the same number."""
        own = self.component[conductor]
        return bool(self.before and self.before.component[conductor] == own) and own not in (self.changed or ())

    @property
    def unproven(self) -> list[frozenset[str]]:
        """The switches of each island that took more steps than it may, of those that were asked for."""
        return [one.unproven for one in sorted(self._islands) if one.unproven is not None]

    @cached_property
    def effort(self) -> float:
        """Steps of effort that all islands take."""
        for component in self.ties:
            self.reachable_of(component)
        return sum(one.steps for one in self._islands) / STEPS

    def reachable(self, conductor: int) -> list[Reachable]:
        """Every source that a conductor reaches, each with the least settings in which it does."""
        component = self.component[conductor]
        known = self._reachable.get(component)
        return self.reachable_of(component) if known is None else known

    def reachable_of(self, component: int) -> list[Reachable]:
        """The same for a component."""
        if component not in self._reachable:
            if component in self._ends_paths or component not in self.ties:
                self._reachable[component] = [
                    Reachable(source, frozenset()) for source in self.sources.get(component, ())
                ]
            else:
                self._explore(self._island(component))
        return self._reachable[component]

    def dead(self, conductors: Iterable[int]) -> list[int]:
        """Those of some conductors that reach no source in any setting."""
        component, asked = self.component, list(conductors)
        dead = {one for one in set(map(component.__getitem__, asked)) if not self.reachable_of(one)}
        return [one for one in asked if component[one] in dead] if dead else []

    def components(self) -> Iterator[int]:
        """Every component that has a source of its own or a conditional tie."""
        return iter(sorted({*self.sources, *self.ties}))

    def _island(self, component: int) -> list[int]:
        """The components without a fixed source that hang together with this one, in an order that is the same for
        each of them: what is known of an island that outruns the budget hangs on it."""
        seen = {component: None}
        queue = [component]
        for here in queue:
            for there, _ in self.ties.get(here, ()):
                if there not in seen and there not in self._ends_paths:
                    seen[there] = None
                    queue.append(there)
        return sorted(queue)

    def _explore(self, island: list[int]) -> None:
        """Carries every source inwards, shortest settings first, dropping what a lesser setting covers."""
        found: dict[int, dict[SupplyLeg, list[Setting]]] = {component: {} for component in island}
        queue: deque[tuple[int, SupplyLeg, Setting]] = deque()
        unproven: frozenset[str] | None = None
        around = dict.fromkeys(island)
        for component in island:
            queue.extend((component, source, frozenset()) for source in self.sources.get(component, ()))
        for component in island:
            for there, setting in self.ties.get(component, ()):
                if there not in found:
                    around[there] = None
                    queue.extend((component, source, setting) for source in self.sources[there])
        steps = 0
        while queue:
            component, source, setting = queue.popleft()
            kept = found[component].setdefault(source, [])
            if any(less <= setting for less in kept):
                continue
            kept[:] = [more for more in kept if not setting <= more]
            kept.append(setting)
            for there, tie in self.ties[component]:
                steps += 1
                if there in found and agree(longer := setting | tie):
                    queue.append((there, source, longer))
            if steps > self.budget:
                unproven = self._switches(island)
                break
        self._islands.append(Island(tuple(island), tuple(around), steps, unproven))
        for component, by_source in found.items():
            self._reachable[component] = [
                new(Reachable, (s, setting)) for s, settings in by_source.items() for setting in settings
            ]

    def _switches(self, island: list[int]) -> frozenset[str]:
        return frozenset(switch for component in island for _, setting in self.ties[component] for switch, _ in setting)


def _is_fixed(source: SupplyLeg) -> bool:
    return source.kind in ("fixed", "analog")


def difference(old: Sequence[Bond], new: Sequence[Bond]) -> tuple[list[Bond], list[Bond]]:
    """The bonds of the first list that are not in the other, and those of the other that are not in the first."""
    first = shared_start(old, new)
    most = min(len(old), len(new)) - first
    last = min(shared_end(old, new), most)
    gone, come = old[first : len(old) - last], new[first : len(new) - last]
    counts = Counter(gone), Counter(come)
    return [*(counts[0] - counts[1]).elements()], [*(counts[1] - counts[0]).elements()]


def _always(bonds: Iterable[Bond]) -> int:
    """How many of some bonds hold in every setting."""
    return sum(bond.when is None for bond in bonds)
