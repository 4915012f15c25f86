"""The bus runs as a tree, and what it costs to swap wires in it so that every stretch of track has its polarity."""

from __future__ import annotations

from functools import cached_property

from railbond.layout.model import Run
from trackplan.record import NamedTuple
from trackplan.statements import Bus, Endplate, Feeder, FrogSwitched

from .wiring import Wiring

RUN_COST = 1.001
"""A swap at a bus terminal, in swaps of a drop: where both mend the same, the drop is easier to reach."""

UNCROSS_COST = 0.999
"""Undoing a swap that the plan says: where either of two swaps mends the same, it is the likelier one."""

Swap = Feeder | Bus | FrogSwitched

Stretch = tuple[int, str]
"""Connected track, and the reverser that feeds it (empty: fixed supply)."""


class Vote(NamedTuple):
    """A wire's statement, where it comes from, the stretch it feeds, the polarity it gives that, and what its swap
    costs. An endplate votes too, and comes from nowhere."""

    statement: Feeder | FrogSwitched | Endplate
    wire: str
    stretch: Stretch
    polarity: bool
    cost: float
    piece: str = ""


class BusTree:
    """The bus runs as a tree hung from the supplies, and whether each terminal's legs arrive crossed."""

    def __init__(self, wiring: Wiring) -> None:
        self.above: dict[str, Run] = {}
        self.crossed: dict[str, bool] = dict.fromkeys(wiring.layout.supplies, False)
        runs: dict[str, list[Run]] = {}
        for run in wiring.layout.runs:
            runs.setdefault(run.source, []).append(run)
        self.order = list(self.crossed)
        for name in self.order:
            for run in runs.get(name, ()):
                if run.terminal not in self.crossed:
                    self.crossed[run.terminal] = self.crossed[name] != run.crossed
                    self.above[run.terminal] = run
                    self.order.append(run.terminal)

    @cached_property
    def place(self) -> dict[str, int]:
        """For each supply and terminal its place from above."""
        return {name: place for place, name in enumerate(self.order)}

    def costs(self, behind: dict[str, list[Vote]], wanted: dict[Stretch, bool]) -> dict[str, list[float]]:
        """What the swaps behind each supply and terminal cost, as its legs arrive, and arrive crossed."""
        cost = {name: [0.0, 0.0] for name in self.order}
        for name in reversed(self.order):
            here = cost[name]
            for vote in behind.get(name, ()):
                here[vote.polarity == wanted[vote.stretch]] += vote.cost
            if name in self.above:
                above = cost[self.above[name].source]
                for turned in (False, True):
                    above[turned] += self.least(name, here, turned)
        return cost

    def least(self, name: str, here: list[float], turned: bool) -> float:
        """The cheaper of a run's two ways round, as the legs arrive where it begins."""
        return min(here[turned], here[not turned] + run_cost(self.above[name]))

    def swaps(self, votes: list[Vote], wanted: dict[Stretch, bool]) -> list[Swap]:
        """The cheapest swaps that give every stretch its wanted polarity."""
        behind = by_wire(votes)
        cost = self.costs(behind, wanted)
        turned: dict[str, bool] = {}
        swaps: list[Swap] = []
        for name in self.order:
            turned[name] = False
            if name in self.above:
                keep = turned[self.above[name].source]
                swap = cost[name][not keep] + run_cost(self.above[name]) < cost[name][keep]
                turned[name] = keep != swap
                if swap:
                    swaps.append(self.above[name].statement)
            wrong = (v for v in behind.get(name, ()) if (v.polarity == wanted[v.stretch]) == turned[name])
            swaps += [vote.statement for vote in wrong if not isinstance(vote.statement, Endplate)]
        return swaps


def by_wire(votes: list[Vote]) -> dict[str, list[Vote]]:
    behind: dict[str, list[Vote]] = {}
    for vote in votes:
        behind.setdefault(vote.wire, []).append(vote)
    return behind


class SwapCosts:
    """What it costs to swap wires, as stretches are turned one after the other: told from what changes along the runs
    to them."""

    def __init__(self, tree: BusTree, votes: list[Vote], wanted: dict[Stretch, bool]) -> None:
        self.tree, self.wanted = tree, dict(wanted)
        self.cost = tree.costs(by_wire(votes), wanted)
        self.run = {name: run_cost(run) for name, run in tree.above.items()}
        self.of: dict[Stretch, list[Vote]] = {}
        for vote in votes:
            self.of.setdefault(vote.stretch, []).append(vote)
        self._ways: dict[Stretch, tuple[dict[str, float], list[str]]] = {}

    def turn(self, stretch: Stretch) -> float:
        """Turns a stretch, and tells how much more it costs then."""
        if stretch not in self._ways:
            self._ways[stretch] = self._way(stretch)
        own, names = self._ways[stretch]
        sign = 1.0 if self.wanted[stretch] else -1.0
        self.wanted[stretch] = not self.wanted[stretch]
        more = {name: [sign * votes, -sign * votes] for name, votes in own.items()}
        total = 0.0
        for name in names:
            straight, turned = more.get(name, (0.0, 0.0))
            if not straight and not turned:
                continue
            old, run = self.cost[name], self.run.get(name)
            new = self.cost[name] = [old[0] + straight, old[1] + turned]
            if run is None:
                total += new[0] - old[0]
                continue
            above = more.setdefault(self.tree.above[name].source, [0.0, 0.0])
            above[0] += min(new[0], new[1] + run) - min(old[0], old[1] + run)
            above[1] += min(new[1], new[0] + run) - min(old[1], old[0] + run)
        return total + sign * own.get("", 0.0)

    def _way(self, stretch: Stretch) -> tuple[dict[str, float], list[str]]:
        """By wire how many more of a stretch's votes, by what their swaps cost, are for its left rail on the + leg than
        against it; and the wires and all that is above them, from below."""
        own: dict[str, float] = {}
        for vote in self.of[stretch]:
            own[vote.wire] = own.get(vote.wire, 0.0) + (vote.cost if vote.polarity else -vote.cost)
        place = self.tree.place
        queue = [name for name in own if name]
        names = set(queue)
        for name in queue:
            run = self.tree.above.get(name)
            if run and run.source not in names:
                names.add(run.source)
                queue.append(run.source)
        return own, sorted(names, key=place.__getitem__, reverse=True)


def run_cost(run: Run) -> float:
    return RUN_COST + UNCROSS_COST - 1 if run.crossed else RUN_COST
