"""Which way round every wire is, and the fewest swaps that make them agree.

Along connected track that does not turn back on itself, left and right keep their names: each part of a piece lies
with or against its neighbor. So every drop votes for one of two polarities of the whole stretch, and so does every
frog's pair of contacts; the ones that are outvoted are crossed. A bus run is a swap too: one crossed run explains all
the wires behind it. A reverser's section votes by itself: its polarity turns.
"""

from __future__ import annotations

from collections.abc import Iterator

from railbond.layout.model import Drop, FrogFeed, Piece, Wire
from railbond.layout.template import Template
from trackplan.statements import Endplate, Feeder, FrogSwitched

from .bus_tree import UNCROSS_COST, BusTree, Stretch, Swap, SwapCosts, Vote
from .signed_graph import Part
from .turning import Turning
from .wiring import Wiring

EDGE_COST = 0.4
"""To go against what an endplate asks for: it decides where the wires are of two minds, and never outvotes them."""

MOST_TRIED = 10
"""Stretches whose polarities are tried in all combinations; beyond, one after the other is turned if that is better."""

TIE = 1e-9
"""Wires are of two minds where no side outvotes the other by more: then the first by the names is believed."""


class Polarity:
    """The polarity of every stretch, True where its first part's left rail should carry the + leg, and the swaps
    that make it so: the fewest, where bus runs form a tree."""

    def __init__(self, turning: Turning) -> None:
        self.turning = turning
        self.tree = BusTree(turning.wiring)
        self._reversers: dict[int, str] = {}
        self.votes = list(self._votes())
        balance: dict[Stretch, float] = {}
        for vote in self.votes:
            balance[vote.stretch] = balance.get(vote.stretch, 0.0) + (vote.cost if vote.polarity else -vote.cost)
        first = {vote.stretch: vote for vote in sorted(self.votes, key=_by_names, reverse=True)}
        self.wanted = {
            stretch: first[stretch].polarity if abs(outcome) < TIE else outcome > 0
            for stretch, outcome in balance.items()
        }
        self.order = {stretch: _by_names(vote) for stretch, vote in first.items()}
        self.swaps = self._settle()

    def _settle(self) -> list[Swap]:
        """Chooses the polarities that need the fewest swaps."""
        votes = {(vote.stretch, vote.polarity) for vote in self.votes}
        mixed = [stretch for stretch, polarity in votes if polarity and (stretch, False) in votes]
        mixed.sort(key=lambda stretch: (self.order[stretch], stretch))
        if mixed:
            costs = SwapCosts(self.tree, self.votes, self.wanted)
            self._turn_each(costs, mixed) if len(mixed) > MOST_TRIED else self._turn_some(costs, mixed)
        return self.tree.swaps(self.votes, self.wanted)

    def _turn_some(self, costs: SwapCosts, mixed: list[Stretch]) -> None:
        """Turns those of the stretches that are best turned together."""
        more, turned = 0.0, 0
        found = {turned: more}
        for number in range(1, 1 << len(mixed)):  # in the order in which each way differs from the last by one stretch
            place = (number & -number).bit_length() - 1
            more, turned = more + costs.turn(mixed[place]), turned ^ 1 << place
            found[turned] = more
        best = min(found, key=lambda turned: (round(found[turned], 6), turned))
        if found[best] < -1e-9:
            self.wanted = self.wanted | dict(zip(mixed, self._asked(mixed, best), strict=True))

    def _asked(self, mixed: list[Stretch], turned: int) -> list[bool]:
        """What is wanted of the stretches then."""
        return [self.wanted[stretch] != bool(turned >> place & 1) for place, stretch in enumerate(mixed)]

    def _turn_each(self, costs: SwapCosts, mixed: list[Stretch]) -> None:
        """Turns one stretch after the other, where that is better than what is turned already."""
        for stretch in mixed:
            if costs.turn(stretch) < -1e-9:
                self.wanted = self.wanted | {stretch: not self.wanted[stretch]}
            else:
                costs.turn(stretch)

    def leg(self, wire: str, piece: str, metal: int) -> int:
        """The leg (0 or 1) of a supply or terminal that a piece's rail asks for."""
        part, left = part_side(self.turning.wiring, piece, metal)
        number, against = self.turning.forest.signs[part]
        wanted = self.wanted.get((number, self._reverser(Wire(wire, 0))), True)
        return int(left ^ against ^ wanted ^ self.tree.crossed.get(wire, False))

    def _reverser(self, wire: Wire) -> str:
        conductor = self.turning.wiring.wire(wire)
        lump = self.turning.proof.component[conductor]
        if lump not in self._reversers:
            supplies = self.turning.supplies(conductor)
            self._reversers[lump] = min((name for name, kind in supplies if kind == "reverser"), default="")
        return self._reversers[lump]

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
            yield Vote(statement, wire.name, (number, reverser), left ^ against ^ minus, cost, piece)


def _by_names(vote: Vote) -> tuple[str, str]:
    """An order of votes that neither the order of lines nor the way in which arrows run has a say in."""
    return vote.piece, vote.wire


def wanting(piece: Piece, feed: FrogFeed) -> list[tuple[Wire, int]]:
    """The wire of each of a frog's contacts, and the rail whose leg it should bring."""
    return [
        (feed.contacts[frog.legs[position]], rail)
        for frog in piece.template.frogs[:1]
        for position, rail in frog.wants.items()
        if frog.legs.get(position) in feed.contacts
    ]


def crossed_wires(wiring: Wiring) -> dict[str, bool]:
    """For each supply and terminal whether its legs arrive crossed."""
    return BusTree(wiring).crossed


def part_side(wiring: Wiring, piece: str, metal: int) -> tuple[Part, bool]:
    """The part in which a metal lies, and whether it is the left rail along the looking direction; of one that reaches
    no end the same as of the metal there that it is always joined with."""
    template = wiring.layout.pieces[piece].template
    if template.bridge and metal in template.bridge:
        return (piece, 0), metal == template.bridge[0]
    for one in (metal, *_joined_with(template, metal)):
        for end in template.ends.values():
            if one in (end.left, end.right):
                return (piece, end.part), (one == end.left) == end.leaves
    for link in template.links:
        for part, rails in ((link.one, link.rails_one), (link.other, link.rails_other)):
            if metal in rails:
                return (piece, part), metal == rails[0]
    return (piece, 0), True


def _joined_with(template: Template, metal: int) -> Iterator[int]:
    for tie in template.ties:
        if tie.when is None and metal in (tie.one, tie.other) and not template.metals[metal].frog:
            yield tie.other if tie.one == metal else tie.one


def lies_in(wiring: Wiring, piece: str, metal: int) -> Part:
    """The part in which a metal lies."""
    return (piece, 0) if wiring.layout.pieces[piece].template.parts == 1 else part_side(wiring, piece, metal)[0]


def part_of(wiring: Wiring, drop: Drop) -> Part:
    """The part on which a drop is soldered: of a rail that runs on past cuts in the other one, by its place."""
    template = wiring.layout.pieces[drop.piece].template
    if template.parts == 1:
        return drop.piece, 0
    if drop.place is None or not template.links:
        return lies_in(wiring, drop.piece, drop.metal)
    return drop.piece, sum(link.offset <= drop.place for link in template.links)
