"""Where an engine stands on dead metal, exactly: by intervals of its place, in every setting that admits its route.

A side of the engine is dead where all of its wheels are. A wheel `o` behind the engine's zero is dead while the zero
is `o` beyond a dead stretch, so each wheel's dead intervals are the rail's, moved by `o`; a side's are what they have
in common; and the engine stalls where either side is dead. A cut that is no longer than a rail joiner's gap does not
leave a wheel dead, which touches both sides of it; `limit gap-length` says otherwise.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from functools import cached_property, lru_cache, partial

from railbond.circuit.effort import spend
from railbond.circuit.graph import Setting
from railbond.circuit.wiring import Wiring
from trackplan.record import NamedTuple

from .geometry import Leg, Stretch
from .intervals import FAR, Interval, Intervals, common, overlapping, united, without
from .live_rails import LiveRails
from .pickups import Pickups, Wheels
from .walking import WalkedTrack
from .windows import OPEN, STOP, Window

Dead = tuple[Intervals, Intervals]
"""Where the left and the right rail of a window are dead."""

BEYOND = 100_000
"""How far beyond an engine's own length track is looked at, micrometers: dead metal may go on behind the next joint."""

A_WINDOW = 2.0
"""Steps of effort that it takes to look at one stretch of track under one engine."""

Find = Callable[[Dead, Pickups], Intervals]


class Question(NamedTuple):
    """What is asked of an engine: where it is in trouble, and where it might yet be if more of the rails were dead."""

    find: Find
    might: Find


class StallAt(NamedTuple):
    """An engine in trouble over an interval of its zero's place in a window, with the points so.

    `sides` are those that have no live wheel in the middle of it, and `dead` the pieces whose dead metal is to blame.
    """

    engine: Pickups
    window: Window
    interval: Interval
    setting: Setting
    sides: tuple[str, ...]
    dead: frozenset[str]

    @property
    def length(self) -> int:
        return self.interval.length


def stalled(dead: Dead, engine: Pickups) -> Intervals:
    """Where either side of an engine has no live wheel."""
    sides = _all_dead(dead[0], engine.left), _all_dead(dead[1], engine.right)
    return united(interval for side in sides for interval in side)


def on_one_wheel(dead: Dead, engine: Pickups) -> Intervals:
    """Where an engine runs, but a side of it with two wheels or more hangs on a single one that bears weight."""
    return without(_at_most_one(dead, engine), stalled(dead, engine))


def _at_most_one(dead: Dead, engine: Pickups) -> Intervals:
    sides = (dead[0], engine.firm_left), (dead[1], engine.firm_right)
    return united(interval for rail, wheels in sides if len(wheels) > 1 for interval in _all_but_one_dead(rail, wheels))


@lru_cache(maxsize=4096)
def _all_dead(rail: Intervals, wheels: Wheels) -> Intervals:
    return overlapping(rail, wheels, len(wheels))


@lru_cache(maxsize=4096)
def _all_but_one_dead(rail: Intervals, wheels: Wheels) -> Intervals:
    return overlapping(rail, wheels, len(wheels) - 1)


@lru_cache(maxsize=4096)
def _some_dead(rail: Intervals, wheels: Wheels) -> Intervals:
    return overlapping(rail, wheels, 1)


STALLS = Question(stalled, stalled)
LONE_WHEELS = Question(on_one_wheel, _at_most_one)


class Ground:
    """What of a layout's track is dead in some setting, leg by leg.

    `dead_frogs` says of some pieces whether their frogs are to be thought dead, or else live, whatever they are.
    """

    def __init__(
        self, wiring: Wiring, track: WalkedTrack, power: LiveRails, dead_frogs: Mapping[str, bool] | None = None
    ) -> None:
        self.wiring = wiring
        self.track = track
        self.power = power
        self.dead_frogs = dead_frogs or {}

    @cached_property
    def doubtful(self) -> list[Leg]:
        """Every leg with metal that may be dead while its own points stand for it."""
        legs = ((leg, self.track.setting((leg,))) for legs in self.track.legs.values() for leg in legs)
        return [leg for leg, so in legs if any(self.is_dead(leg, one, so) for one in (*leg.left, *leg.right))]

    def states(self, window: Window) -> Iterator[tuple[Setting, Dead]]:
        """Every setting that admits a window's route and on which its power hangs, with what is dead in it."""
        for setting in self.power.settings(self._conductors(window), window.setting):
            yield setting, (self._dead(window, 0, setting), self._dead(window, 1, setting))

    def _conductors(self, window: Window) -> Iterator[int]:
        for leg in window.legs:
            yield from (
                self.wiring.metal(leg.piece, one.metal) for one in (*leg.left, *leg.right) if one.metal is not None
            )

    def dead_length(self, leg: Leg, setting: Setting, within: str = "") -> int:
        """How much of a leg is dead, on the worse of its rails; with `within`, of its frogs or of its other rails."""
        lengths = [
            sum(
                one.stop - one.start
                for one in rail
                if self.is_dead(leg, one, setting) and within in ("", "frog" if self.is_frog(leg, one) else "rail")
            )
            for rail in (leg.left, leg.right)
        ]
        return max(lengths)

    def dead_rails(self, leg: Leg, setting: Setting) -> list[int]:
        """The conductors of a leg that are dead and no frogs."""
        rails = (one for one in (*leg.left, *leg.right) if one.metal is not None and not self.is_frog(leg, one))
        dead = (one for one in rails if self.is_dead(leg, one, setting))
        return [self.wiring.metal(leg.piece, one.metal) for one in dead if one.metal is not None]

    def is_frog(self, leg: Leg, stretch: Stretch) -> bool:
        """Whether a stretch is a frog, of metal or plastic, and no rail."""
        template = self.wiring.layout.pieces[leg.piece].template
        return bool(template.positions) and (stretch.metal is None or template.metals[stretch.metal].frog)

    def _dead(self, window: Window, side: int, setting: Setting) -> Intervals:
        return united(
            (start + stretch.start, start + stretch.stop)
            for leg, start in zip(window.legs, window.starts, strict=True)
            for stretch in (leg.left, leg.right)[side]
            if self.is_dead(leg, stretch, setting)
        )

    def is_dead(self, leg: Leg, stretch: Stretch, setting: Setting) -> bool:
        """Whether a stretch has no power in some setting of the switches that the given one leaves open."""
        if leg.piece in self.dead_frogs and self.is_frog(leg, stretch):
            return self.dead_frogs[leg.piece]
        return stretch.metal is None or not self.power.live(self.wiring.metal(leg.piece, stretch.metal), setting)

    def troubles(self, engines: Iterable[Pickups], question: Question) -> Iterator[StallAt]:
        """Every trouble of every engine, by every way over every leg that may be dead."""
        engines = list(engines)
        for leg in self.doubtful if engines else ():
            yield from self.troubles_on(leg, engines, question)

    def troubles_on(self, leg: Leg, engines: Iterable[Pickups], question: Question) -> Iterator[StallAt]:
        """The same by every way over one leg; where its power hangs on points, also by those that end before them."""
        rails = [one.metal for one in (*leg.left, *leg.right) if self.is_dead(leg, one, self.track.setting((leg,)))]
        may_stay = any(metal is not None and self._has_ways(leg, metal) for metal in rails)
        for engine in engines:
            keep = partial(self._might, leg, engine, question.might)
            for window in self.track.windows(leg, engine.span + BEYOND, may_stay, keep):
                yield from self._within(engine, window, question.find)

    def _has_ways(self, leg: Leg, metal: int) -> bool:
        return bool(self.power.proof.reachable(self.wiring.metal(leg.piece, metal)))

    def _might(self, leg: Leg, engine: Pickups, might: Find, window: Window) -> bool:
        """Whether an engine with a wheel on dead metal of a leg can be in trouble in a window, or in a longer one."""
        spend(A_WINDOW)
        own = Window((leg,), (0,), leg.length, STOP, STOP, window.setting)
        beyond = [Interval(FAR.start, window.starts[0])] if window.before == OPEN else []
        beyond += [Interval(window.stop, FAR.stop)] if window.behind == OPEN else []
        left, right = (united((*self._dead(window, side, window.setting), *beyond)) for side in (0, 1))
        where = common(might((left, right), engine), room(window, engine))
        sides = ((0, engine.left), (1, engine.right)) if where else ()
        near = (_some_dead(self._dead(own, side, window.setting), wheels) for side, wheels in sides)
        return any(common(where, one) for one in near)

    def _within(self, engine: Pickups, window: Window, find: Find) -> Iterator[StallAt]:
        for setting, dead in self.states(window):
            for interval in common(find(dead, engine), room(window, engine)):
                middle = (interval.start + interval.stop) / 2
                yield StallAt(engine, window, interval, setting, *self._causes(engine, window, middle, setting))

    def _causes(
        self, engine: Pickups, window: Window, place: float, setting: Setting
    ) -> tuple[tuple[str, ...], frozenset[str]]:
        """The sides that are dead with the engine's zero at a place, and the pieces whose dead metal is to blame."""
        stood = [
            [list(self._dead_under(window, side, place - wheel, setting)) for wheel in wheels]
            for side, wheels in enumerate((engine.left, engine.right))
        ]
        sides = [side for side in (0, 1) if all(stood[side])]
        blamed = {piece for side in sides or (0, 1) for pieces in stood[side] for piece in pieces}
        return tuple(("left", "right")[side] for side in sides), frozenset(blamed)

    def _dead_under(self, window: Window, side: int, place: float, setting: Setting) -> Iterator[str]:
        """The pieces whose dead metal lies at a place of one rail."""
        for leg, start in zip(window.legs, window.starts, strict=True):
            for stretch in (leg.left, leg.right)[side]:
                if stretch.start <= place - start <= stretch.stop and self.is_dead(leg, stretch, setting):
                    yield leg.piece


def room(window: Window, engine: Pickups) -> Intervals:
    """Where an engine's zero can be, the track stopping where it does."""
    wheels = engine.left + engine.right
    start = window.starts[0] + max(wheels) if window.before == STOP else FAR.start
    stop = window.stop + min(wheels) if window.behind == STOP else FAR.stop
    return (Interval(start, stop),) if start < stop else ()
