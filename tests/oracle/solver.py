"""The same questions put to z3: is there a setting in which …?

Nothing is enumerated: each turnout is one Boolean (true: diverging) and reaching is spread step by step over
the bonds as formulas, so that only the model of the plan is shared with the brute force.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable
from functools import cached_property
from typing import TypeAlias

import networkx as nx
import z3

from .rails import Blade, Condition, Conductor, Feed, Model, Pass, Setting, Source, conflict, drive, mixed

Formula: TypeAlias = z3.BoolRef


class Solver:
    """Asks one plan's questions. Every answer is a setting that shows it, or None where there is none."""

    def __init__(self, model: Model) -> None:
        self.model = model
        self.z3 = z3.Solver()
        self.turnouts = {name: z3.Bool(name) for name in model.turnouts}
        self._reaches: dict[tuple[int, bool], dict[int, Formula]] = {}
        self._sources: dict[tuple[int, bool], dict[Source, Formula]] = {}

    def holds(self, when: Condition) -> Formula:
        stands = ((self.turnouts[name], route) for name, route in when)
        return z3.And([diverging if route == "diverging" else z3.Not(diverging) for diverging, route in stands])

    def witness(self, question: Formula) -> Setting | None:
        question = z3.simplify(question)
        if z3.is_false(question) or self.z3.check(question) != z3.sat:
            return None
        shown = self.z3.model()
        return {
            name: "diverging" if z3.is_true(shown.eval(stands, model_completion=True)) else "through"
            for name, stands in self.turnouts.items()
        }

    # what is one piece of metal, and what moves

    @cached_property
    def _lump(self) -> dict[Conductor, int]:
        """Conductors that are one in every setting share a number."""
        metal = nx.Graph()
        metal.add_nodes_from(self.model.conductors)
        metal.add_edges_from((bond.one, bond.other) for bond in self.model.bonds if not bond.when)
        return {one: nth for nth, component in enumerate(nx.connected_components(metal)) for one in component}

    @cached_property
    def _movable(self) -> dict[int, list[tuple[int, Formula, bool]]]:
        """Per component: the components that a blade or contact joins to it, when, and whether by touch alone."""
        movable: dict[int, list[tuple[int, Formula, bool]]] = defaultdict(list)
        for bond in self.model.bonds:
            one, other = self._lump[bond.one], self._lump[bond.other]
            if bond.when and one != other:
                movable[one].append((other, self.holds(bond.when), bond.touch))
                movable[other].append((one, self.holds(bond.when), bond.touch))
        return movable

    @cached_property
    def _feeds(self) -> dict[int, list[Feed]]:
        feeds: dict[int, list[Feed]] = defaultdict(list)
        for feed in self.model.feeds:
            feeds[self._lump[feed.conductor]].append(feed)
        return feeds

    def reaches(self, conductor: Conductor, touches: bool = True) -> dict[int, Formula]:
        """The components that a conductor can reach, each with the formula for the settings in which it does.

        In each round what was reached goes one bond further; a way that visits no component twice has fewer bonds
        than there are components, so as many rounds as components say it all.
        """
        start = self._lump[conductor]
        if (start, touches) not in self._reaches:
            self._reaches[start, touches] = self._spread(start, touches)
        return self._reaches[start, touches]

    def _spread(self, start: int, touches: bool) -> dict[int, Formula]:
        island = self._island(start, touches)
        reached = {one: z3.BoolVal(one == start) for one in island}
        for _ in range(len(island) - 1):
            reached = {
                one: z3.simplify(z3.Or([reached[one], *(z3.And(reached[a], when) for a, when in ways)]))
                for one, ways in island.items()
            }
        return reached

    def _island(self, start: int, touches: bool) -> dict[int, list[tuple[int, Formula]]]:
        """All components that movable bonds could ever join to one, with their ways in."""
        island: dict[int, list[tuple[int, Formula]]] = {}
        waiting = [start]
        while waiting:
            if (one := waiting.pop()) not in island:
                island[one] = [(a, when) for a, when, touch in self._movable[one] if touches or not touch]
                waiting += [other for other, _ in island[one]]
        return island

    # questions

    def sources(self, conductor: Conductor, touches: bool = True) -> dict[Source, Formula]:
        """Every source that could reach a conductor, with the formula for the settings in which it does."""
        start = self._lump[conductor]
        if (start, touches) not in self._sources:
            self._sources[start, touches] = self._reached(conductor, touches)
        return self._sources[start, touches]

    def _reached(self, conductor: Conductor, touches: bool) -> dict[Source, Formula]:
        ways: dict[Source, list[Formula]] = defaultdict(list)
        for component, reached in self.reaches(conductor, touches).items():
            for feed in self._feeds[component]:
                ways[feed.source].append(z3.And(reached, self.holds(feed.when)))
        return {source: z3.simplify(z3.Or(when)) for source, when in ways.items()}

    def fed(self, conductor: Conductor, touches: bool = True) -> Setting | None:
        return self.witness(z3.Or(list(self.sources(conductor, touches).values())))

    def legs_joined(self, conductor: Conductor) -> Setting | None:
        return self._pair(conductor, conflict)

    def districts_joined(self, conductor: Conductor) -> Setting | None:
        return self._pair(conductor, mixed)

    def _pair(self, conductor: Conductor, trouble: Callable[[Source, Source], bool]) -> Setting | None:
        held = self.sources(conductor).items()
        return self.witness(z3.Or([z3.And(w1, w2) for a, w1 in held for b, w2 in held if trouble(a, b)]))

    def _opposed(self, one: Conductor, other: Conductor) -> Formula:
        """Opposite phases on two conductors that no metal joins."""
        joined = self.reaches(one).get(self._lump[other], z3.BoolVal(False))
        mine, theirs = self.sources(one).items(), self.sources(other).items()
        clash = [z3.And(w1, w2) for a, w1 in mine for b, w2 in theirs if conflict(a, b)]
        return z3.And(z3.Not(joined), z3.Or(clash))

    def opposed(self, roll: Pass) -> Setting | None:
        return self.witness(z3.And(self.holds(roll.when), self._opposed(roll.one, roll.other)))

    def volts(self, left: Conductor, right: Conductor) -> Setting | None:
        """A setting in which an engine that stands on two rails has volts."""
        mine, theirs = self._given(left).items(), self._given(right).items()
        driven = [z3.And(w1, w2) for a, w1 in mine for b, w2 in theirs if drive(a, b)]
        return self.witness(z3.Or(driven))

    def _given(self, rail: Conductor) -> dict[Source, Formula]:
        """What reaches a rail; no unit elsewhere turns metal round that is always a supply's own."""
        own = {feed.source for feed in self._feeds[self._lump[rail]] if not feed.when}
        held = any(one.kind == "fixed" for one in own)
        reaching = self.sources(rail).items()
        return {one: when for one, when in reaching if not held or one.kind != "frog unit" or one in own}

    def set_against(self, roll: Pass) -> Setting | None:
        """A setting in which exactly one turnout stands against, for a joint that is no short otherwise."""
        if roll.kind != "joint" or not roll.when or self.opposed(roll):
            return None
        stands = [self.holds(frozenset({one})) for one in sorted(roll.when)]
        one_missed = z3.PbEq([(z3.Not(stand), 1) for stand in stands], 1)
        return self.witness(z3.And(one_missed, self._opposed(roll.one, roll.other)))

    def open_point(self, blade: Blade) -> Setting | None:
        return self.witness(z3.And(self.holds(blade.open), self._opposed(blade.closure, blade.stock)))
