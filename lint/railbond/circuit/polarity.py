"""Which way round every feeder is, and the fewest swaps that make them agree.

Along connected track that does not turn back on itself, left and right keep their names: each part of a piece lies
with or against its neighbour. So every drop votes for one of two polarities of the whole stretch, and the drops that
are outvoted are the crossed ones. A bus run is a swap too: one crossed run explains all the drops behind it.
"""

from __future__ import annotations

from collections import Counter
from typing import NamedTuple

from railbond.layout.model import Run
from trackplan.statements import Bus, Feeder

from .forest import Part
from .turning import Turning
from .wiring import Wiring

RUN_COST = 1.001
"""A swap at a bus terminal, in swaps of a drop: where both mend the same, the drop is easier to reach."""

CROSSED_COST = 0.9
"""Taking a `crossed` back, in swaps of a drop: of two that disagree, the odd one out is likelier the mistake."""


class Vote(NamedTuple):
    """A feeder, the stretch of track it feeds, and the polarity that it gives that stretch."""

    statement: Feeder
    wire: str
    stretch: int
    polarity: bool


def fewest_swaps(turning: Turning) -> list[Feeder | Bus]:
    """The feeders and bus runs to swap so that no stretch is fed both ways; the fewest, where runs form a tree.

    Which polarity a stretch ends up with is chosen by majority and then improved stretch by stretch.
    """
    tree = _Tree(turning.wiring)
    votes = _votes(turning, tree)
    counts = Counter((vote.stretch, vote.polarity) for vote in votes)
    mixed = [stretch for stretch, polarity in counts if polarity and (stretch, False) in counts]
    if not mixed:
        return []
    wanted = {vote.stretch: counts[vote.stretch, True] > counts[vote.stretch, False] for vote in votes}
    best = tree.swaps(votes, wanted)
    for stretch in mixed:
        other = tree.swaps(votes, wanted | {stretch: not wanted[stretch]})
        if other[0] < best[0]:
            best = other
            wanted[stretch] = not wanted[stretch]
    return best[1]


class _Tree:
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

    def swaps(self, votes: list[Vote], wanted: dict[int, bool]) -> tuple[float, list[Feeder | Bus]]:
        """The cheapest swaps that give every stretch its wanted polarity, and their cost."""
        behind: dict[str, list[Vote]] = {}
        for vote in votes:
            behind.setdefault(vote.wire, []).append(vote)
        cost = {name: [0.0, 0.0] for name in self.order}
        for name in reversed(self.order):
            here = cost[name]
            for vote in behind.get(name, ()):
                crossed = vote.statement.crossed is not None
                here[vote.polarity == wanted[vote.stretch]] += CROSSED_COST if crossed else 1
            if name in self.above:
                above = cost[self.above[name].source]
                for turned in (False, True):
                    above[turned] += min(here[turned], here[not turned] + RUN_COST)
        return sum(cost[n][False] for n in self.order if n not in self.above), self._chosen(cost, behind, wanted)

    def _chosen(
        self, cost: dict[str, list[float]], behind: dict[str, list[Vote]], wanted: dict[int, bool]
    ) -> list[Feeder | Bus]:
        turned: dict[str, bool] = {}
        swaps: list[Feeder | Bus] = []
        for name in self.order:
            turned[name] = False
            if name in self.above:
                keep = turned[self.above[name].source]
                swap = cost[name][not keep] + RUN_COST < cost[name][keep]
                turned[name] = keep != swap
                if swap:
                    swaps.append(self.above[name].statement)
            wrong = (v for v in behind.get(name, ()) if (v.polarity == wanted[v.stretch]) == turned[name])
            swaps += dict.fromkeys(vote.statement for vote in wrong)
        return swaps


def _votes(turning: Turning, tree: _Tree) -> list[Vote]:
    """One vote for each feeder of a fixed supply; a pair votes once, by its drop to the left rail."""
    wiring = turning.wiring
    signs = turning.forest.signs
    votes: dict[int, Vote] = {}
    for drop in wiring.layout.drops:
        part, left = part_side(wiring, drop.piece, drop.metal)
        reversed_ = any(kind == "reverser" for _, kind in turning.supplies(wiring.wire(drop.wire)))
        if part in signs and drop.wire.name in tree.crossed and not reversed_:
            stretch, against = signs[part]
            phase = (drop.wire.leg == 1) != tree.crossed[drop.wire.name]
            vote = Vote(drop.statement, drop.wire.name, stretch, left ^ against ^ phase)
            votes.setdefault(id(drop.statement), vote)
    return list(votes.values())


def part_side(wiring: Wiring, piece: str, metal: int) -> tuple[Part, bool]:
    """The part in which a metal lies, and whether it is the left rail along the looking direction."""
    template = wiring.layout.pieces[piece].template
    for end in template.ends.values():
        if metal in (end.left, end.right):
            return (piece, end.part), (metal == end.left) == end.leaves
    for link in template.links:
        for part, rails in ((link.one, link.rails_one), (link.other, link.rails_other)):
            if metal in rails:
                return (piece, part), metal == rails[0]
    return (piece, 0), True


def polarities(turning: Turning) -> dict[int, bool]:
    """Which leg each rail should carry (True: the - leg), for every stretch of track that has a fixed feeder."""
    wiring = turning.wiring
    signs = turning.forest.signs
    counts = Counter((vote.stretch, vote.polarity) for vote in _votes(turning, _Tree(wiring)))
    leads = {stretch: counts[stretch, True] >= counts[stretch, False] for stretch, _ in counts}
    found = {}
    for piece in wiring.layout.pieces.values():
        for metal in range(len(piece.template.metals)):
            part, left = part_side(wiring, piece.name, metal)
            if part in signs and signs[part][0] in leads:
                stretch, against = signs[part]
                found[wiring.metal(piece.name, metal)] = left ^ against ^ leads[stretch]
    return found
