"""What a train meets along a run, place by place: which leg each rail carries, dead stretches, cuts, and stalls.

Each turnout stands as the train needs it: for the way that it took last over it, else for the one that it takes next.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from functools import cached_property
from itertools import groupby, pairwise, starmap
from typing import NamedTuple

from railbond.circuit.facts import Facts
from railbond.circuit.graph import Setting, SupplyLeg, agree
from railbond.layout.model import EndAt

from .geometry import Leg, Rail
from .intervals import Interval, Intervals, united
from .live_rails import LiveRails
from .pickups import Pickups
from .routes import Journeying
from .stalling import stalled
from .walking import WalkedTrack

SIDES = ("left", "right")
DEAD = "dead"
MAYBE = " or dead"
"""After a leg that other turnouts, off the run, may cut off."""


class Sight(NamedTuple):
    """From one place of the run to another, micrometers, what the two rails carry (legs of supplies, or `dead`).

    `leg` numbers the ride; `cut` names the rails that are cut where the stretch begins.
    """

    start: int
    stop: int
    leg: int
    left: str
    right: str
    cut: tuple[str, ...] = ()


class Journey:
    """One run, looked at."""

    def __init__(self, facts: Facts, track: WalkedTrack, run: Journeying) -> None:
        self.facts = facts
        self.track = track
        self.run = run
        self.power = LiveRails(facts.proof)

    @cached_property
    def starts(self) -> list[int]:
        """Where each ride begins."""
        places = [0]
        for leg in self.run.legs:
            places.append(places[-1] + leg.length)
        return places[:-1]

    @cached_property
    def settings(self) -> list[Setting]:
        """How the turnouts of the run stand during each ride."""
        return [self._setting(number) for number in range(len(self.run.legs))]

    def _setting(self, number: int) -> Setting:
        legs = self.run.legs
        order = [*reversed(legs[: number + 1]), *legs[number + 1 :]]
        stands: dict[str, str] = {}
        for leg in order:
            if leg.position:
                stands.setdefault(leg.piece, leg.position)
        return frozenset(starmap(self.facts.wiring.literal, stands.items()))

    @cached_property
    def sights(self) -> list[Sight]:
        """The run in stretches along which nothing changes."""
        return _joined(one for number in range(len(self.run.legs)) for one in self._sights(number))

    def _sights(self, number: int) -> Iterator[Sight]:
        leg, start = self.run.legs[number], self.starts[number]
        marks = sorted({one.start for one in (*leg.left, *leg.right)} | {leg.length})
        for here, there in zip(marks, marks[1:], strict=False):
            left, right = (self.carried(number, side, (here + there) / 2) for side in (0, 1))
            yield Sight(start + here, start + there, number, left, right, self._cut(leg, here))

    def carried(self, number: int, side: int, place: float) -> str:
        """What a rail carries `place` micrometers into a ride."""
        leg = self.run.legs[number]
        metals = [one.metal for one in (leg.left, leg.right)[side] if one.start < place < one.stop]
        known = [metal for metal in metals if metal is not None]
        if len(known) < len(metals) or not known:
            return DEAD
        return self._carried(self.facts.wiring.metal(leg.piece, known[0]), self.settings[number])

    def _carried(self, conductor: int, setting: Setting) -> str:
        ways = [way for way in self.facts.proof.reachable(conductor) if agree(way.setting | setting)]
        legs = sorted({self._words(way.source) for way in ways})
        whole = self.power.settings((conductor,), setting)
        sure = all(self.power.live(conductor, one) for one in whole)
        return " or ".join(legs) + ("" if sure else MAYBE) if legs else DEAD

    def _words(self, source: SupplyLeg) -> str:
        return source.supply if source.kind == "unit" else self.facts.leg(source)

    def _cut(self, leg: Leg, place: int) -> tuple[str, ...]:
        """The rails that are cut at a place of a leg: where a train enters it, or within a segment."""
        if place == 0:
            here = self.track.beyond.get(EndAt(leg.piece, leg.enter))
            return tuple(side for side in SIDES if here and (here, side) in self.track.gapped)
        if self.facts.layout.pieces[leg.piece].template.positions:
            return ()
        return tuple(side for side, rail in zip(SIDES, (leg.left, leg.right), strict=True) if _begins(rail, place))

    @cached_property
    def turning(self) -> dict[Sight, str]:
        """Where a reverser turns its polarity under the train: at a cut that asks for the other one than the last."""
        asked: dict[str, bool] = {}
        found = {}
        for before, sight in pairwise(self.sights):
            for name, turned in self._asks(before, sight):
                if asked.setdefault(name, turned) != turned:
                    asked[name], found[sight] = turned, name
        return found

    def _asks(self, before: Sight, sight: Sight) -> Iterator[tuple[str, bool]]:
        for side in SIDES:
            one, other = self._leg(getattr(before, side)), self._leg(getattr(sight, side))
            if one and other and one[0] != other[0] and {one[1], other[1]} == {True, False}:
                yield one[0] if one[1] else other[0], one[2] != other[2]

    def opposed(self, before: Sight, sight: Sight) -> bool:
        """Whether a rail goes from one phase to the other."""
        pairs = [(self._leg(getattr(before, side)), self._leg(getattr(sight, side))) for side in SIDES]
        return any(one and other and not one[1] and not other[1] and one[2] != other[2] for one, other in pairs)

    def without_volts(self, sight: Sight) -> bool:
        """Whether both rails have power and carry the same leg: there a train stands still as on dead rail."""
        one, other = self._leg(sight.left), self._leg(sight.right)
        return one is not None and one == other

    def _leg(self, words: str) -> tuple[str, bool, int] | None:
        """What a rail carries as supply, whether that is a reverser, and which of its legs (0 or 1)."""
        name, _, leg = words.removesuffix(MAYBE).rpartition(".")
        supply = self.facts.layout.supplies.get(name)
        return (name, supply.kind == "reverser", supply.legs.index(leg)) if supply and leg in supply.legs else None

    def stalls(self, engine: Pickups) -> list[tuple[Interval, int]]:
        """Where on the run an engine stands still, by the place of its foremost wheel in its direction of travel,
        and on which ride that is."""
        found = []
        for first, last, nose_leads in self._stages():
            one = engine if nose_leads else backing(engine)
            front = min(one.left + one.right)
            for interval in stalled((self._dead(first, last, 0), self._dead(first, last, 1)), one):
                if interval.length > engine.coast:
                    place = Interval(interval.start - front, interval.stop - front)
                    found.append((place, self.ride_at(place.start)))
        return found

    def ride_at(self, place: int) -> int:
        return max((number for number, start in enumerate(self.starts) if start <= place), default=0)

    def _stages(self) -> Iterator[tuple[int, int, bool]]:
        """The rides between two reversals: first, last, and whether the nose leads."""
        numbered = enumerate(self.run.rides)
        for nose, group in groupby(numbered, key=lambda one: one[1].nose_leads):
            numbers = [number for number, _ in group]
            yield numbers[0], numbers[-1], nose

    def _dead(self, first: int, last: int, side: int) -> Intervals:
        dead = (
            (self.starts[number] + one.start, self.starts[number] + one.stop)
            for number in range(first, last + 1)
            for one in (self.run.legs[number].left, self.run.legs[number].right)[side]
            if self.carried(number, side, (one.start + one.stop) / 2).endswith(DEAD)
        )
        own = (sight for sight in self.sights if first <= sight.leg <= last and self.without_volts(sight))
        return united((*dead, *((sight.start, sight.stop) for sight in own)))


def backing(engine: Pickups) -> Pickups:
    """An engine that runs with its nose trailing, as the rails see it: turned end for end."""
    left, right = (tuple(sorted(-wheel for wheel in wheels)) for wheels in (engine.right, engine.left))
    return engine._replace(left=left, right=right)


def _begins(rail: Rail, place: int) -> bool:
    return any(one.start == place for one in rail)


def _joined(sights: Iterable[Sight]) -> list[Sight]:
    """Stretches that carry the same made one, unless a cut or another ride lies between."""
    found: list[Sight] = []
    for one in sights:
        if found and not one.cut and found[-1][2:5] == one[2:5]:
            found[-1] = found[-1]._replace(stop=one.stop)
        else:
            found.append(one)
    return found
