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
            if len(own) > 1:
                own.sort(key=_order)
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
                one, there, when, _, at = bond
                if there == here:
                    there = one
                if there not in before and (when is None or when in setting) and (at != barred or not barred):
                    before[there] = (bond, here)
                    queue.append(there)
        return None

    def path_to(self, start: int, source: SupplyLeg, setting: Setting) -> list[tuple[Bond, int]] | None:
        """The same to one leg of a supply."""
        goals = {one for one, other in self.graph.sources.items() if other == source}
        return self.path(start, goals.__contains__, setting)

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


def _order(bond: Bond) -> tuple[int, int, str, tuple[str, str]]:
    one, other, when, kind, _ = bond
    return one, other, kind, when or ("", "")


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
