"""The reason for an answer: the path through metal, step by step, each with its line of the plan."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from functools import cached_property

from railbond.findings import Claim, Step
from trackplan.span import Span

from .graph import Bond, RailGraph, Setting, SupplyLeg

KIND_WORDS = {
    "build": "{one} is one metal with {other}",
    "bond": "{one} is soldered to {other}",
    "touch": "{one} touches {other} with {when}",
    "joint": "{one} meets {other}",
    "wire": "a wire ties {one} to {other}",
    "contact": "contacts tie {one} to {other} with {when}",
}


class Witness:
    """Finds paths in a rail graph as it stands in one setting, and tells them in words."""

    def __init__(self, graph: RailGraph) -> None:
        self.graph = graph

    @cached_property
    def bonds(self) -> list[list[Bond]]:
        """The bonds of each conductor, in the order of what they lead to: of ways as short one is told."""
        bonds: list[list[Bond]] = [[] for _ in self.graph.names]
        for bond in self.graph.bonds:
            bonds[bond.one].append(bond)
            bonds[bond.other].append(bond)
        for own in bonds:
            own.sort(key=lambda bond: (bond.one, bond.other, bond.kind, bond.when or ("", "")))
        return bonds

    def path(
        self, start: int, is_goal: Callable[[int], bool], setting: Setting, barred: Span | None = None
    ) -> list[tuple[Bond, int]] | None:
        """The shortest path from a conductor to one that is a goal: each bond, and the conductor behind it.

        The path uses no bond of the `barred` statement.
        """
        before: dict[int, tuple[Bond, int] | None] = {start: None}
        queue, bonds = [start], self.bonds
        for here in queue:
            if is_goal(here):
                return _trace(before, here)
            for bond in bonds[here]:
                there = bond.other if bond.one == here else bond.one
                if there in before or (barred and bond.at == barred):
                    continue
                if bond.when is None or bond.when in setting:
                    before[there] = (bond, here)
                    queue.append(there)
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
        path = self.path(conductor, lambda here: self.graph.sources.get(here) == source, setting)
        return self.reversed_steps(conductor, path or [])

    def reversed_steps(self, start: int, path: list[tuple[Bond, int]]) -> list[Step]:
        """A path told from its far end."""
        if not path:
            return []
        goal = path[-1][1]
        conductors = [start, *(there for _, there in path)]
        back = [(bond, before) for (bond, _), before in zip(path, conductors, strict=False)]
        return self.steps(goal, reversed(back))


def _trace(before: dict[int, tuple[Bond, int] | None], goal: int) -> list[tuple[Bond, int]]:
    path, here = [], goal
    while (step := before[here]) is not None:
        bond, previous = step
        path.append((bond, here))
        here = previous
    return path[::-1]


def setting_words(setting: Iterable[tuple[str, str]]) -> str:
    """`T1 diverging, T2 through`, in the order of the names: exact. `plain_words` says it as a person does."""
    return ", ".join(f"{switch} {position}" for switch, position in sorted(setting))
