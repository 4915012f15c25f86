"""Which way round every wire is, and the fewest swaps that make them agree.

Along connected track that does not turn back on itself, left and right keep their names: each part of a piece lies
with or against its neighbor. So every drop votes for one of two polarities of the whole stretch, and so does every
frog's pair of contacts; the ones that are outvoted are crossed. A bus run is a swap too: one crossed run explains all
the wires behind it. A reverser's section votes by itself: its polarity turns.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import product

from railbond.layout.model import Drop, FrogFeed, Piece, Run, Wire
from trackplan.record import NamedTuple
from trackplan.statements import Bus, Endplate, Feeder, FrogSwitched

from .signed_graph import Part
from .turning import Turning
from .wiring import Wiring

RUN_COST = 1.001
"""A swap at a bus terminal, in swaps of a drop: where both mend the same, the drop is easier to reach."""

UNCROSS_COST = 0.999
"""Undoing a swap that the plan says: where either of two swaps mends the same, it is the likelier one."""

EDGE_COST = 0.4
"""To go against what an endplate asks for: it decides where the wires are of two minds, and never outvotes them."""

MOST_TRIED = 10
"""Stretches whose polarities are tried in all combinations; beyond, one after the other is turned if that is better."""

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


class Polarity:
    """The polarity of every stretch, True where its first part's left rail should carry the + leg, and the swaps
    that make it so: the fewest, where bus runs form a tree."""

    def __init__(self, turning: Turning) -> None:
        self.turning = turning
        self.tree = _Tree(turning.wiring)
        self.votes = list(self._votes())
        balance: dict[Stretch, float] = {}
        for vote in self.votes:
            balance[vote.stretch] = balance.get(vote.stretch, 0.0) + (vote.cost if vote.polarity else -vote.cost)
        self.wanted = {stretch: outcome > 0 for stretch, outcome in balance.items()}
        self.swaps = self._settle()

    def _settle(self) -> list[Swap]:
        """Chooses the polarities that need the fewest swaps."""
        best = self.tree.swaps(self.votes, self.wanted)
        for wanted in self._others():
            other = self.tree.swaps(self.votes, wanted)
            if other[0] < best[0] - 1e-9:
                best, self.wanted = other, wanted
        return best[1]

    def _others(self) -> Iterator[dict[Stretch, bool]]:
        votes = {(vote.stretch, vote.polarity) for vote in self.votes}
        mixed = sorted(stretch for stretch, polarity in votes if polarity and (stretch, False) in votes)
        if len(mixed) > MOST_TRIED:
            yield from (self.wanted | {stretch: not self.wanted[stretch]} for stretch in mixed)
            return
        for choice in product((False, True), repeat=len(mixed)):
            yield self.wanted | dict(zip(mixed, choice, strict=True))

    def leg(self, wire: str, piece: str, metal: int) -> int:
        """The leg (0 or 1) of a supply or terminal that a piece's rail asks for."""
        part, left = part_side(self.turning.wiring, piece, metal)
        number, against = self.turning.forest.signs[part]
        wanted = self.wanted.get((number, self._reverser(Wire(wire, 0))), True)
        return int(left ^ against ^ wanted ^ self.tree.crossed.get(wire, False))

    def _reverser(self, wire: Wire) -> str:
        supplies = self.turning.supplies(self.turning.wiring.wire(wire))
        return min((name for name, kind in supplies if kind == "reverser"), default="")

    def _votes(self) -> Iterator[Vote]:
        """One vote for each feeder, frog and endplate; a pair of drops votes once, by the one to the left rail."""
        layout = self.turning.wiring.layout
        first = {id(drop.statement): drop for drop in reversed(layout.drops)}
        for drop in first.values():
            cost = UNCROSS_COST if drop.statement.crossed else 1.0
            yield from self._vote(drop.statement, drop.wire, drop.piece, drop.metal, cost)
        for feed in layout.frogs.values():
            wires = {wire.name for wire in feed.contacts.values()}
            if isinstance(feed.statement, FrogSwitched) and len(wires) == 1 and feed.mover in (None, feed.piece):
                for wire, rail in wanting(layout.pieces[feed.piece], feed)[:1]:
                    yield from self._vote(feed.statement, wire, feed.piece, rail, 1.0)
        for edge in layout.edges.values():
            if edge.end is not None and edge.left is not None:
                rail = self.turning.wiring.end(edge.end).side("left")
                yield from self._vote(edge.statement, Wire("", edge.left), edge.end.piece, rail, EDGE_COST)

    def _vote(
        self, statement: Feeder | FrogSwitched | Endplate, wire: Wire, piece: str, metal: int, cost: float
    ) -> Iterator[Vote]:
        part, left = part_side(self.turning.wiring, piece, metal)
        if part in self.turning.forest.signs and (not wire.name or wire.name in self.tree.crossed):
            number, against = self.turning.forest.signs[part]
            minus = (wire.leg == 1) != self.tree.crossed.get(wire.name, False)
            reverser = self._reverser(wire) if wire.name else ""
            yield Vote(statement, wire.name, (number, reverser), left ^ against ^ minus, cost)


def wanting(piece: Piece, feed: FrogFeed) -> list[tuple[Wire, int]]:
    """The wire of each of a frog's contacts, and the rail whose leg it should bring."""
    return [
        (feed.contacts[frog.legs[position]], rail)
        for frog in piece.template.frogs[:1]
        for position, rail in frog.wants.items()
        if frog.legs.get(position) in feed.contacts
    ]


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

    def swaps(self, votes: list[Vote], wanted: dict[Stretch, bool]) -> tuple[float, list[Swap]]:
        """The cheapest swaps that give every stretch its wanted polarity, and their cost."""
        behind: dict[str, list[Vote]] = {}
        for vote in votes:
            behind.setdefault(vote.wire, []).append(vote)
        cost = {name: [0.0, 0.0] for name in self.order}
        for name in reversed(self.order):
            here = cost[name]
            for vote in behind.get(name, ()):
                here[vote.polarity == wanted[vote.stretch]] += vote.cost
            if name in self.above:
                above = cost[self.above[name].source]
                for turned in (False, True):
                    above[turned] += min(here[turned], here[not turned] + run_cost(self.above[name]))
        total = sum(cost[name][False] for name in self.order if name not in self.above)
        edges = sum(vote.cost for vote in behind.get("", ()) if vote.polarity != wanted[vote.stretch])
        return total + edges, self._chosen(cost, behind, wanted)

    def _chosen(
        self, cost: dict[str, list[float]], behind: dict[str, list[Vote]], wanted: dict[Stretch, bool]
    ) -> list[Swap]:
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


def run_cost(run: Run) -> float:
    return RUN_COST + UNCROSS_COST - 1 if run.crossed else RUN_COST


def crossed_wires(wiring: Wiring) -> dict[str, bool]:
    """For each supply and terminal whether its legs arrive crossed."""
    return _Tree(wiring).crossed


def part_side(wiring: Wiring, piece: str, metal: int) -> tuple[Part, bool]:
    """The part in which a metal lies, and whether it is the left rail along the looking direction."""
    template = wiring.layout.pieces[piece].template
    if template.bridge and metal in template.bridge:
        return (piece, 0), metal == template.bridge[0]
    for end in template.ends.values():
        if metal in (end.left, end.right):
            return (piece, end.part), (metal == end.left) == end.leaves
    for link in template.links:
        for part, rails in ((link.one, link.rails_one), (link.other, link.rails_other)):
            if metal in rails:
                return (piece, part), metal == rails[0]
    return (piece, 0), True


def part_of(wiring: Wiring, drop: Drop) -> Part:
    """The part on which a drop is soldered: of a rail that runs on past cuts in the other one, by its place."""
    links = wiring.layout.pieces[drop.piece].template.links
    if drop.place is None or not links:
        return part_side(wiring, drop.piece, drop.metal)[0]
    return drop.piece, sum(link.offset <= drop.place for link in links)


def fewest_swaps(turning: Turning) -> list[Swap]:
    """The feeders, bus runs and frogs' contacts to swap so that no stretch is fed both ways."""
    return Polarity(turning).swaps
