"""The reason for an answer: the path through metal, step by step, each with its line of the plan."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from functools import cached_property
from math import inf

from railbond.findings import Claim, Step
from trackplan.span import Span

from .graph import Bond, RailGraph, Setting, SupplyLeg

Path = list[tuple[Bond, int]]
"""Each bond, and the conductor behind it."""

KIND_WORDS = {
    "build": "{one} is one metal with {other}",
    "bond": "{one} is soldered to {other}",
    "touch": "{one} touches {other} with {when}",
    "joint": "{one} meets {other}",
    "wire": "a wire ties {one} to {other}",
    "contact": "contacts tie {one} to {other} with {when}",
}


NEAR = 1_000
"""Conductors that are looked at on the way to a supply, before it is found out how far each conductor is from it."""


class TooFar(Exception):
    """A goal lies further than somebody looks."""


class Witness:
    """Finds paths in a rail graph as it stands in one setting, and tells them in words."""

    def __init__(self, graph: RailGraph) -> None:
        self.graph = graph
        self._far: dict[SupplyLeg, _Distances] = {}
        self._ordered: dict[int, list[Bond]] = {}
        self._paths: dict[tuple[int, SupplyLeg, Setting], Path | None] = {}

    @cached_property
    def bonds(self) -> list[list[Bond]]:
        """The bonds of each conductor."""
        bonds: list[list[Bond]] = [[] for _ in self.graph.names]
        for bond in self.graph.bonds:
            bonds[bond[0]].append(bond)
            bonds[bond[1]].append(bond)
        return bonds

    @cached_property
    def neighbors(self) -> list[list[int]]:
        """What the bonds of each conductor lead to."""
        neighbors: list[list[int]] = [[] for _ in self.graph.names]
        for one, other, _, _, _ in self.graph.bonds:
            neighbors[one].append(other)
            neighbors[other].append(one)
        return neighbors

    def of(self, conductor: int) -> list[Bond]:
        """The bonds of a conductor, in the order of what they lead to: of ways as short one is told."""
        if conductor not in self._ordered:
            self._ordered[conductor] = sorted(self.bonds[conductor], key=_order)
        return self._ordered[conductor]

    def path(
        self,
        start: int,
        is_goal: Callable[[int], bool],
        setting: Setting,
        barred: Span | None = None,
        most: float = inf,
    ) -> Path | None:
        """The shortest path from a conductor to one that is a goal: each bond, and the conductor behind it.

        The path uses no bond of the `barred` statement. Raises TooFar where `most` conductors are looked at in vain.
        """
        before: dict[int, tuple[Bond, int] | None] = {start: None}
        queue = [start]
        for here in queue:
            if is_goal(here):
                return _trace(before, here)
            if len(queue) > most:
                raise TooFar
            for bond in self.of(here):
                one, there, when, _, at = bond
                if there == here:
                    there = one
                if there not in before and (when is None or when in setting) and (at != barred or not barred):
                    before[there] = (bond, here)
                    queue.append(there)
        return None

    def path_to(self, start: int, source: SupplyLeg, setting: Setting) -> Path | None:
        """The same to one leg of a supply. It is not to be changed: whoever asks again gets that one."""
        asked = start, source, setting
        if asked not in self._paths:
            self._paths[asked] = self._path_to(*asked)
        return self._paths[asked]

    def _path_to(self, start: int, source: SupplyLeg, setting: Setting) -> Path | None:
        far = self._far.get(source)
        if far is None:
            goals = {one for one, other in self.graph.sources.items() if other == source}
            try:
                return self.path(start, goals.__contains__, setting, most=NEAR)
            except TooFar:
                far = self._far[source] = _Distances(self.neighbors, goals)
        most, more = far.of(start), 1
        while most <= len(self.graph.names):
            path = self._path_within(start, far.up_to(most), setting, most)
            if path is not None:
                return path
            most, more = most + more, 2 * more
        return None

    def _path_within(self, start: int, far: Sequence[float], setting: Setting, most: float) -> Path | None:
        """The same where it has so many bonds at most: nothing is looked at from where as few do not lead to the goal,
        whatever holds. What is left is looked at in the order in which it would be."""
        before: dict[int, tuple[Bond, int] | None] = {start: None}
        nearest, steps = [start], 1
        while nearest:
            beyond: list[int] = []
            for here in nearest:
                if not far[here]:
                    return _trace(before, here)
                for bond in self.of(here):
                    there = bond.other if bond.one == here else bond.one
                    if steps + far[there] <= most and there not in before and (not bond.when or bond.when in setting):
                        before[there] = (bond, here)
                        beyond.append(there)
            nearest, steps = beyond, steps + 1
        return None

    def steps(self, start: int, path: Iterable[tuple[Bond, int]]) -> list[Step]:
        """A path in words, one step a bond."""
        told, here = [], start
        for bond, there in path:
            one, other = self.graph.names[here], self.graph.names[there]
            when = setting_words((bond.when,)) if bond.when else ""
            tied = Claim("tied", (one, other), (), (bond.when,) if bond.when else ())
            told.append(Step(bond.at, KIND_WORDS[bond.kind].format(one=one, other=other, when=when), (tied,)))
            here = there
        return told

    def from_source(self, conductor: int, source: SupplyLeg, setting: Setting) -> list[Step]:
        """How one leg of a supply reaches a conductor in a setting, step by step from the supply to it."""
        return self.reversed_steps(conductor, self.path_to(conductor, source, setting) or [])

    def reversed_steps(self, start: int, path: list[tuple[Bond, int]]) -> list[Step]:
        """A path told from its far end."""
        if not path:
            return []
        goal = path[-1][1]
        conductors = [start, *(there for _, there in path)]
        back = [(bond, before) for (bond, _), before in zip(path, conductors, strict=False)]
        return self.steps(goal, reversed(back))


class _Distances:
    """For each conductor the bonds on the shortest way from it to a goal, if all bonds held at once: found as far as
    somebody asks, and beyond that told to be without end."""

    def __init__(self, neighbors: Sequence[Iterable[int]], goals: Iterable[int]) -> None:
        self._neighbors, self._latest, self._steps = neighbors, set(goals), 0
        self._far = [inf] * len(neighbors)
        self._note()

    def of(self, conductor: int) -> float:
        """The distance of one."""
        while self._latest and self._far[conductor] == inf:
            self._go_on()
        return self._far[conductor]

    def up_to(self, most: float) -> Sequence[float]:
        """Those of all that are no further than so many bonds."""
        while self._latest and self._steps < most:
            self._go_on()
        return self._far

    def _go_on(self) -> None:
        far, beyond = self._far, set[int]().union(*map(self._neighbors.__getitem__, self._latest))
        self._latest, self._steps = {one for one in beyond if far[one] == inf}, self._steps + 1
        self._note()

    def _note(self) -> None:
        for one in self._latest:
            self._far[one] = self._steps


def _order(bond: Bond) -> tuple[int, int, str, tuple[str, str]]:
    one, other, when, kind, _ = bond
    return one, other, kind, when or ("", "")


def _trace(before: dict[int, tuple[Bond, int] | None], goal: int) -> Path:
    path, here = [], goal
    while (step := before[here]) is not None:
        bond, previous = step
        path.append((bond, here))
        here = previous
    return path[::-1]


def setting_words(setting: Iterable[tuple[str, str]]) -> str:
    """`T1 diverging, T2 through`, in the order of the names: exact. `plain_words` says it as a person does."""
    return ", ".join(f"{switch} {position}" for switch, position in sorted(setting))
