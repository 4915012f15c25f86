"""The bus runs as a tree, and what it costs to swap wires in it so that every stretch of track has its polarity."""

from __future__ import annotations

from heapq import heapify, heappop, heappush

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
        self.place = {name: place for place, name in enumerate(tree.order)}
        self.of: dict[Stretch, list[Vote]] = {}
        for vote in votes:
            self.of.setdefault(vote.stretch, []).append(vote)

    def turn(self, stretch: Stretch) -> float:
        """Turns a stretch, and tells how much more it costs then."""
        total, more = 0.0, dict[str, list[float]]()
        for vote in self.of[stretch]:
            own, agrees = more.setdefault(vote.wire, [0.0, 0.0]), vote.polarity == self.wanted[stretch]
            own[agrees] -= vote.cost
            own[not agrees] += vote.cost
        self.wanted[stretch] = not self.wanted[stretch]
        edges = more.pop("", [0.0, 0.0])
        queue = [-self.place[name] for name in more]
        heapify(queue)
        while queue:
            name = self.tree.order[-heappop(queue)]
            old = self.cost[name]
            new = self.cost[name] = [one + other for one, other in zip(old, more[name], strict=True)]
            if name not in self.tree.above:
                total += new[False] - old[False]
                continue
            source = self.tree.above[name].source
            if source not in more:
                more[source] = [0.0, 0.0]
                heappush(queue, -self.place[source])
            for way in (False, True):
                more[source][way] += self.tree.least(name, new, way) - self.tree.least(name, old, way)
        return total + edges[False]


def run_cost(run: Run) -> float:
    return RUN_COST + UNCROSS_COST - 1 if run.crossed else RUN_COST
