"""Which supply feeds a frog, and which feeds the rails that a train comes from and goes to while it is on the frog."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cached_property

from railbond.layout.model import FrogFeed, Piece
from railbond.layout.template import Frog
from trackplan.record import NamedTuple

from .facts import Facts
from .graph import Roll, Setting, SupplyLeg, agree
from .proof import Reachable
from .questions import avoiding


class Elsewhere(NamedTuple):
    """A frog that in a setting, with the points in `position`, is fed by `frog`, while `rails` feeds a rail beside it,
    the conductor `door`, and the frog's own supply feeds none. Two sides that differ are a boundary, at which the
    supply of either is right."""

    feed: FrogFeed
    number: int
    position: str
    setting: Setting
    frog: SupplyLeg
    rails: SupplyLeg
    door: int


class FrogSupplies:
    """The supplies of a plan's frogs."""

    def __init__(self, facts: Facts) -> None:
        self.facts = facts

    @cached_property
    def rolls(self) -> dict[int, list[Roll]]:
        """What wheels roll over at frogs that stand alone, by the conductors at either side."""
        found: dict[int, list[Roll]] = {conductor: [] for conductor in self.facts.lone_frogs}
        for roll in self.facts.graph.rolls:
            one, other = roll[0], roll[1]
            if one in found:
                found[one].append(roll)
            if other in found:
                found[other].append(roll)
        return found

    def elsewhere(self) -> Iterator[Elsewhere]:
        """Every frog that is fed from elsewhere, once for each position of its points."""
        for feed in self.facts.layout.frogs.values():
            piece = self.facts.layout.pieces[feed.piece]
            for number in feed.frogs:
                frog = piece.template.frogs[number]
                metal = self.facts.wiring.metal(piece.name, frog.metal)
                if metal in self.facts.lone_frogs and not self._is_of_one(piece, feed, metal):
                    found = (self._in(piece, feed, number, position) for position in frog.wants)
                    yield from (one for one in found if one is not None)

    def _is_of_one(self, piece: Piece, feed: FrogFeed, metal: int) -> bool:
        """Whether one supply is all that ever comes to a frog and to the rails around it, as at most."""
        unit, proof, rolls = self._unit(piece, metal), self.facts.proof, self.rolls
        around = {proof.component[end] for one in unit for roll in rolls.get(one, ()) for end in (roll.one, roll.other)}
        ways = [way.source for lump in around or {proof.component[metal]} for way in proof.reachable_of(lump)]
        names = {source.supply for source in ways if source.kind != "unit"}
        names.update(one.supply for one in (self._behind(feed) if feed.supply else ()))
        return len(names) < 2

    def _in(self, piece: Piece, feed: FrogFeed, number: int, position: str) -> Elsewhere | None:
        frog = piece.template.frogs[number]
        doors = self.doors(piece, frog, position)
        ways = [(door, way) for door in doors for way in self._ways(door)]
        for setting, own in self._fed(piece, feed, frog, position):
            same = [way.setting for _, way in ways if way.source.supply == own.supply]
            for door, way in ways if frozenset() not in same else ():  # which every setting has
                whole = setting | way.setting
                if way.source.supply != own.supply and agree(whole):
                    found = avoiding(self.facts.proof, whole, same)
                    if found is not None:
                        return Elsewhere(feed, number, position, found, own, way.source, door)
        return None

    def doors(self, piece: Piece, frog: Frog, position: str) -> tuple[int, ...]:
        """The conductors from and onto which a wheel rolls at either end of a frog's metal, its points in a position;
        of these the ones that have power at all."""
        unit = self._unit(piece, self.facts.wiring.metal(piece.name, frog.metal))
        switch, stands = self.facts.wiring.literal(piece.name, position)
        found: dict[int, None] = {}
        for conductor in sorted(unit):
            for roll in self.rolls.get(conductor, ()):
                if all(stands in good for name, good in roll.needs if name == switch):
                    found |= dict.fromkeys({roll.one, roll.other} - unit)
        return tuple(one for one in found if self._ways(one))

    def _unit(self, piece: Piece, metal: int) -> set[int]:
        """The frog and the frog rails that are one metal with it."""
        lone, first = self.facts.lone_frogs, self.facts.wiring.first[piece.name]
        always = [(first + one, first + other) for one, other, when, _ in piece.template.ties if when is None]
        tied = {one if other == metal else other for one, other in always if metal in (one, other)}
        return {metal, *(one for one in tied if lone.get(metal) == lone.get(one) == piece.name)}

    def _fed(self, piece: Piece, feed: FrogFeed, frog: Frog, position: str) -> Iterator[tuple[Setting, SupplyLeg]]:
        """What feeds a frog, and in which settings: of a unit, whatever it hangs on."""
        stands = frozenset({self.facts.wiring.literal(piece.name, position)})
        for way in self.facts.proof.reachable(self.facts.wiring.metal(piece.name, frog.metal)):
            if agree(whole := way.setting | stands):
                sources = [way.source] if way.source.kind != "unit" else self._behind(feed)
                yield from ((whole, source) for source in sources)

    def _behind(self, feed: FrogFeed) -> list[SupplyLeg]:
        names = self.facts.supply_of_wire.get(feed.supply or "", frozenset())
        return [leg for _, leg in sorted(self._first_legs[name] for name in names if name in self._first_legs)]

    @cached_property
    def _first_legs(self) -> dict[str, tuple[int, SupplyLeg]]:
        """The first leg of each supply, by its name, with its place among all."""
        sources = self.facts.graph.sources.values()
        return {one.supply: (place, one) for place, one in enumerate(sources) if one.leg == 0 and one.kind != "unit"}

    def _ways(self, conductor: int) -> list[Reachable]:
        return [way for way in self.facts.proof.reachable(conductor) if way.source.kind != "unit"]


def clash(facts: Facts, one: SupplyLeg, other: SupplyLeg) -> str:
    """What it is that a wheel ties together: two `systems`, `cabs` or `boosters`, a `reverser` and another supply, or
    where both are of one booster two `breakers` or `detectors`."""
    if one.is_alien_to(other):
        return "systems"
    if one.kind == "analog":
        return "cabs" if one.cab != other.cab else "detectors"
    if "reverser" in (one.kind, other.kind):
        return "reverser"
    here, there = (facts.layout.supplies.get(source.supply) for source in (one, other))
    if here is None or there is None or here.booster != there.booster:
        return "boosters"
    return "detectors" if (here.district or here.name) == (there.district or there.name) else "breakers"
