"""Reversers' sections as trains meet them: where a wheel rolls in and out, how far apart that is along the track, and
which polarity the reverser is asked for there.

A reverser turns until no wheel bridges opposite phases, so every cut at its section's edge asks for one of its two
polarities. A train that bridges two cuts which ask for different ones shorts the supply whichever way the reverser
stands; so do two trains, each at a cut of its own.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import cached_property
from heapq import heappop, heappush
from itertools import count, pairwise

from railbond.circuit.graph import Setting, agree, contract
from railbond.circuit.proof import Proof, Reachable
from railbond.circuit.wiring import Wiring
from railbond.layout.model import EndAt
from trackplan.record import NamedTuple

from . import measure
from .geometry import Leg
from .walking import WalkedTrack

SIDES = ("left", "right")


class BoundaryCrossing(NamedTuple):
    """A wheel of one side rolls from one conductor onto another, `offset` micrometers into a leg."""

    leg: Leg
    offset: int
    side: str
    before: int
    after: int


class Through(NamedTuple):
    """A way through a section, from the crossing into it to the first one out: micrometers, and the legs between."""

    into: BoundaryCrossing
    out: BoundaryCrossing
    length: int
    legs: tuple[Leg, ...]


class Asked(NamedTuple):
    """The polarity that a crossing asks a reverser for (True: its first leg is the - phase), in a setting."""

    turned: bool
    setting: Setting


class Sections:
    """The sections of one reverser. What lies `alone`, a frog with whatever is one metal with it, is no section and
    ends none, whatever feeds it."""

    def __init__(
        self, reverser: str, wiring: Wiring, proof: Proof, track: WalkedTrack, alone: frozenset[int] = frozenset()
    ) -> None:
        self.alone = alone
        self.reverser = reverser
        self.wiring = wiring
        self.proof = proof
        self.track = track

    @cached_property
    def entries(self) -> list[BoundaryCrossing]:
        """Every crossing from track that is fed otherwise into a section."""
        legs = (leg for legs in self.track.legs.values() for leg in legs)
        return [one for leg in legs for one in self._crossings(leg) if self._enters(one.before, one.after)]

    @cached_property
    def throughs(self) -> list[Through]:
        """The shortest way through from every entry to every place to leave that can be reached from it."""
        return [way for entry in self.entries for way in self._ways_out(entry)]

    @cached_property
    def conflicting(self) -> list[Through]:
        """Those whose two ends ask for different polarities, the shortest first."""
        found = (one for one in self.throughs if self.disagree(one.into, one.out))
        return sorted((one for one in found if agree(self.track.setting(one.legs))), key=lambda one: one.length)

    def disagree(self, one: BoundaryCrossing, other: BoundaryCrossing) -> bool:
        """Whether two crossings ask for different polarities in some setting."""
        asked = ((here, there) for here in self.asked(one) for there in self.asked(other))
        return any(here.turned != there.turned and agree(here.setting | there.setting) for here, there in asked)

    def asked(self, crossing: BoundaryCrossing) -> list[Asked]:
        """What a wheel at a crossing asks for; nothing where the track outside is no fixed supply's."""
        here, there = (self.proof.reachable(one) for one in (crossing.before, crossing.after))
        if not self._carries(crossing.after):
            here, there = there, here
        pairs = ((out, inside) for out in here for inside in there if self._own(inside) and out.source.kind == "fixed")
        settings = ((out, inside, out.setting | inside.setting) for out, inside in pairs)
        return [Asked(out.source.leg != inside.source.leg, both) for out, inside, both in settings if agree(both)]

    @cached_property
    def apart(self) -> list[list[BoundaryCrossing]]:
        """The entries of each section, of sections between which no train can go without leaving."""
        groups: list[set[str]] = []
        for entry in self.entries:
            places = {self.place(entry), *(self.place(one.out) for one in self.throughs if one.into is entry)}
            joined = [group for group in groups if group & places]
            groups = [group for group in groups if not group & places] + [places.union(*joined)]
        found = [[one for one in self.entries if self.place(one) in group] for group in groups]
        return self._by_metal(found) if len(found) > 1 else found

    def _by_metal(self, groups: list[list[BoundaryCrossing]]) -> list[list[BoundaryCrossing]]:
        """The groups with those put together whose rails are one metal, a train having to turn back in between."""
        graph = self.wiring.graph
        rails = (bond._replace(when=None) for bond in graph.bonds if bond.kind not in ("wire", "contact"))
        metal = contract(len(graph.names), rails)
        merged: list[tuple[set[int], list[BoundaryCrossing]]] = []
        for group in groups:
            own = {metal[one.after] for one in group}
            same = [one for one in merged if one[0] & own]
            crossings = [crossing for one in same for crossing in one[1]] + group
            merged = [one for one in merged if not one[0] & own] + [(own.union(*(one[0] for one in same)), crossings)]
        return [crossings for _, crossings in merged]

    @cached_property
    def staggered(self) -> list[Through]:
        """Ends of a section whose two rails are cut at different places: from the first cut to the other rail's."""
        found: dict[frozenset[str], Through] = {}
        for entry in self.entries:
            other = self._other_rail(entry)
            if other is not None and other.length:
                found.setdefault(frozenset((self.place(entry), self.place(other.out))), other)
        return list(found.values())

    def _other_rail(self, entry: BoundaryCrossing) -> Through | None:
        """From an entry to the nearest one of the other rail, as long as this rail stays in the section."""
        for length, legs, one in self._onward(entry, from_here=True):
            if one.side != entry.side and self._enters(one.before, one.after):
                return Through(entry, one, length, legs)
            if one.side == entry.side and self._enters(one.after, one.before):
                return None
        return None

    def _ways_out(self, entry: BoundaryCrossing) -> Iterator[Through]:
        seen = set()
        for length, legs, one in self._onward(entry):
            if self._enters(one.after, one.before) and self.place(one) not in seen:
                seen.add(self.place(one))
                yield Through(entry, one, length, legs if one.offset else legs[:-1])

    def _onward(
        self, entry: BoundaryCrossing, from_here: bool = False
    ) -> Iterator[tuple[int, tuple[Leg, ...], BoundaryCrossing]]:
        """Crossings ahead of an entry, the nearest first; not followed beyond one that leaves the section.

        With `from_here`, those at the entry's own place come first.
        """
        order = count()
        queue: list[tuple[int, int, tuple[Leg, ...], BoundaryCrossing | None]] = []
        seen: set[EndAt] = set()

        def onto(done: int, legs: tuple[Leg, ...], after: int = -1) -> None:
            """Puts in the queue what comes along the last of the legs."""
            for one in self._crossings(legs[-1]):
                if one.offset > after:
                    heappush(queue, (done + one.offset, next(order), legs, one))
                    if self._enters(one.after, one.before):
                        return
            heappush(queue, (done + legs[-1].length, next(order), legs, None))

        onto(-entry.offset, (entry.leg,), entry.offset - from_here)
        while queue:
            done, _, legs, crossing = heappop(queue)
            last = EndAt(legs[-1].piece, legs[-1].leave)
            if crossing is not None:
                yield done, legs, crossing
            elif last not in seen:
                seen.add(last)
                for follow in self.track.follow(legs[-1]):
                    onto(done, (*legs, follow))

    def _enters(self, before: int, after: int) -> bool:
        """Whether one conductor is the section's and the other is fed by something else."""
        if self._carries(before) or not self._carries(after):
            return False
        return any(way.source.kind != "unit" for way in self.proof.reachable(before))

    def _carries(self, conductor: int) -> bool:
        return any(map(self._own, self.proof.reachable(conductor)))

    def _own(self, way: Reachable) -> bool:
        return way.source.supply == self.reverser

    def _crossings(self, leg: Leg) -> list[BoundaryCrossing]:
        """Every change of conductor along a leg, its entry among them, in order."""
        found = []
        for side, rail in zip(SIDES, (leg.left, leg.right), strict=True):
            every = [(one.start, self.wiring.metal(leg.piece, one.metal)) for one in rail if one.metal is not None]
            metals = [one for one in every if one[1] not in self.alone] or every
            found += [BoundaryCrossing(leg, 0, side, self._before(leg, side, metals[0][1]), metals[0][1])]
            found += [BoundaryCrossing(leg, there[0], side, here[1], there[1]) for here, there in pairwise(metals)]
        return sorted((one for one in found if one.before != one.after), key=lambda one: one.offset)

    def place(self, crossing: BoundaryCrossing) -> str:
        """Where a crossing is, the same whichever way one comes: a joint, `T1.through` or `loop at 1.2 m`."""
        leg = crossing.leg
        if crossing.offset:
            along = crossing.offset if leg.enter == "start" else leg.length - crossing.offset
            return f"{leg.piece} at {measure(along)}"
        here = EndAt(leg.piece, leg.enter)
        if here in self.track.meetings and (name := self.track.meetings[here].name):
            return name
        return str(min(here, self.track.beyond.get(here, here), key=lambda end: (not self.wiring.end(end).rails, end)))

    def _before(self, leg: Leg, side: str, default: int) -> int:
        """The conductor that a wheel leaves when it enters a leg."""
        there = self.track.beyond.get(EndAt(leg.piece, leg.enter))
        return self.wiring.rail(there, side) if there else default
