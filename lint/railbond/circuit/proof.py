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

from collections import deque
from collections.abc import Callable, Iterable, Iterator

from trackplan.record import NamedTuple

from .effort import spend
from .graph import Bond, RailGraph, Setting, SupplyLeg, agree

BUDGET = 50_000
"""Steps that one island may take unless the plan's `limit proof-steps` says otherwise: far above what track needs."""


STEPS = 40
"""Steps of the proof in one of effort."""


class Reachable(NamedTuple):
    """A source that a component reaches, and the least setting in which it does."""

    source: SupplyLeg
    setting: Setting


class Proof:
    """Components and islands of a rail graph, and what each reaches. `holds` chooses the bonds (all, unless said), and
    `like` is the proof of all of them, where that is known. `before` is the proof of a graph that differs in a few. No
    effort is counted of one that `is_free`: of the plan as it stands some may be known from before it was typed at."""

    def __init__(
        self,
        graph: RailGraph,
        holds: Callable[[Bond], bool] | None = None,
        budget: int = BUDGET,
        like: Proof | None = None,
        before: Proof | None = None,
        is_free: bool = False,
    ) -> None:
        self.before = before
        self._is_free = is_free
        self.graph = graph
        self.budget = budget
        bonds = graph.bonds if holds is None else [bond for bond in graph.bonds if holds(bond)]
        is_alike = like and _always(bonds) == _always(graph.bonds)
        self.component: list[int] = like.component if like and is_alike else contract(len(graph.names), bonds)
        self.sources: dict[int, dict[SupplyLeg, None]] = {}
        for conductor, source in graph.sources.items():
            self.sources.setdefault(self.component[conductor], {})[source] = None
        self.ties: dict[int, list[tuple[int, Setting]]] = {}
        self._tie(bonds)
        self.unproven: list[frozenset[str]] = []
        self.answers: dict[object, Setting | None] = {}
        """What was asked of two components, for whoever asks again: see `questions.across`."""
        self.pairs: dict[object, list[Setting]] = {}
        """The settings in which two components are reached by sources of which that is so, whatever else is asked."""
        self._reachable: dict[int, list[Reachable]] = {}

    def _tie(self, bonds: Iterable[Bond]) -> None:
        for bond in bonds:
            if bond.when is not None and (one := self.component[bond.one]) != (other := self.component[bond.other]):
                setting = frozenset((bond.when,))
                self.ties.setdefault(one, []).append((other, setting))
                self.ties.setdefault(other, []).append((one, setting))

    def reachable(self, conductor: int) -> list[Reachable]:
        """Every source that a conductor reaches, each with the least settings in which it does."""
        component = self.component[conductor]
        known = self._reachable.get(component)
        return self.reachable_of(component) if known is None else known

    def reachable_of(self, component: int) -> list[Reachable]:
        """The same for a component."""
        if component not in self._reachable:
            if self._ends_paths(component) or component not in self.ties:
                self._reachable[component] = [
                    Reachable(source, frozenset()) for source in self.sources.get(component, ())
                ]
            else:
                self._explore(self._island(component))
        return self._reachable[component]

    def components(self) -> Iterator[int]:
        """Every component that has a source of its own or a conditional tie."""
        return iter(dict.fromkeys((*self.sources, *self.ties)))

    def _ends_paths(self, component: int) -> bool:
        return any(source.kind in ("fixed", "analog") for source in self.sources.get(component, ()))

    def _island(self, component: int) -> list[int]:
        """The components without a fixed source that hang together with this one."""
        seen = {component: None}
        queue = [component]
        for here in queue:
            for there, _ in self.ties.get(here, ()):
                if there not in seen and not self._ends_paths(there):
                    seen[there] = None
                    queue.append(there)
        return queue

    def _explore(self, island: list[int]) -> None:
        """Carries every source inwards, shortest settings first, dropping what a lesser setting covers."""
        found: dict[int, dict[SupplyLeg, list[Setting]]] = {component: {} for component in island}
        queue: deque[tuple[int, SupplyLeg, Setting]] = deque()
        for component in island:
            queue.extend((component, source, frozenset()) for source in self.sources.get(component, ()))
        for component in island:
            for there, setting in self.ties.get(component, ()):
                if there not in found:
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
                self.unproven.append(self._switches(island))
                break
        spend(0 if self._is_free else steps / STEPS)
        for component, by_source in found.items():
            self._reachable[component] = [
                Reachable(s, setting) for s, settings in by_source.items() for setting in settings
            ]

    def _switches(self, island: list[int]) -> frozenset[str]:
        return frozenset(switch for component in island for _, setting in self.ties[component] for switch, _ in setting)


def _always(bonds: Iterable[Bond]) -> int:
    """How many of some bonds hold in every setting."""
    return sum(bond.when is None for bond in bonds)


def contract(count: int, bonds: Iterable[Bond]) -> list[int]:
    """The component of each conductor: union-find over the bonds that always hold."""
    parent = list(range(count))
    for one, other, when, _, _ in bonds:
        if when is None:
            while parent[one] != one:
                parent[one] = one = parent[parent[one]]
            while parent[other] != other:
                parent[other] = other = parent[parent[other]]
            if one < other:
                parent[other] = one
            elif other < one:
                parent[one] = other
    for conductor in range(count):
        parent[conductor] = parent[parent[conductor]]
    return parent
