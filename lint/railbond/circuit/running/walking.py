"""The ways that trains can go: leg by leg over pieces and through the ends where pieces meet."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import islice
from typing import NamedTuple

from railbond.circuit.graph import Setting, agree
from railbond.circuit.wiring import Wiring
from railbond.layout.limits import limit
from railbond.layout.model import EndAt, Meeting
from railbond.layout.template import OTHER_SIDE
from trackplan.statements import Segment

from . import micrometres
from .frogs import Size, size_of
from .geometry import Leg, Rail, Stretch, legs_of
from .standards import standard

MOST_WINDOWS = 512
"""Ways that are followed over one piece, within an engine's length on either side of it."""
MOST_LEGS = 200
"""Pieces in a row that are followed on one side; only track of tiny pieces has more within an engine's length."""


class Window(NamedTuple):
    """Legs in a row and where each begins, in micrometres from where the one in question does.

    Where the track stops, a train cannot go beyond `first` or `last`; elsewhere those are None.
    """

    legs: tuple[Leg, ...]
    starts: tuple[int, ...]
    first: int | None
    last: int | None
    setting: Setting


class Reach(NamedTuple):
    """Legs that follow one another, and whether the track stops behind them."""

    legs: tuple[Leg, ...]
    stops: bool


class Track:
    """Every leg of a layout, by the end at which it begins."""

    def __init__(self, wiring: Wiring) -> None:
        self.wiring = wiring
        self.layout = layout = wiring.layout
        self.beyond: dict[EndAt, EndAt] = {}
        self.meetings: dict[EndAt, Meeting] = {}
        self.gapped: set[tuple[EndAt, str]] = set()
        for meeting in layout.meetings:
            self.beyond[meeting.one], self.beyond[meeting.other] = meeting.other, meeting.one
            self.meetings[meeting.one] = self.meetings[meeting.other] = meeting
            self.gapped.update((meeting.one, side) for side in meeting.gaps)
            self.gapped.update((meeting.other, OTHER_SIDE[side]) for side in meeting.gaps)
        self.gap = micrometres(limit(layout, "gap-length") or 0.0)
        self.stops = frozenset(layout.stops)
        self.sizes = {name: size_of(piece, layout.scale, self.code(name)) for name, piece in layout.pieces.items()}
        self.legs: dict[EndAt, list[Leg]] = {}
        for name, piece in layout.pieces.items():
            for leg in legs_of(piece, self.sizes[name]):
                self.legs.setdefault(EndAt(name, leg.enter), []).append(self._insulated(leg) if self.gap else leg)

    def size(self, piece: str) -> Size:
        return self.sizes[piece]

    def follow(self, leg: Leg) -> list[Leg]:
        """The legs by which a train may go on."""
        there = self.beyond.get(EndAt(leg.piece, leg.leave))
        return self.legs.get(there, []) if there else []

    def back(self, leg: Leg) -> Leg:
        """The same way run backwards."""
        there = self.legs[EndAt(leg.piece, leg.leave)]
        return next(one for one in there if (one.leave, one.position) == (leg.enter, leg.position))

    def reach(self, leg: Leg, far: int, may_stay: bool = False, row: tuple[Leg, ...] = ()) -> Iterator[Reach]:
        """Every way to go on from a leg until `far` micrometres are covered or the track ends; with `may_stay`, also
        those that end before points, which may be set against the train."""
        last = row[-1] if row else leg
        follow = self.follow(last) if far > 0 and len(row) < MOST_LEGS else []
        if may_stay and any(one.position for one in follow):
            yield Reach(row, True)
        if not follow:
            yield Reach(row, far > 0 and EndAt(last.piece, last.leave) in self.stops)
        for one in follow:
            yield from self.reach(leg, far - one.length, may_stay, (*row, one))

    def windows(self, leg: Leg, far: int, may_stay: bool = False) -> Iterator[Window]:
        """Every way that a train goes over a leg, `far` micrometres before and behind it, as far as the points can
        stand for all of it at once. With `may_stay`, also those on which it stays before points."""
        before = list(islice(self.reach(leg.turned(), far, may_stay), MOST_WINDOWS))
        for behind in islice(self.reach(leg, far, may_stay), MOST_WINDOWS):
            on = self._agreeing((leg,), behind)
            ways = dict.fromkeys(self._agreeing((leg, *on.legs), one) for one in before)
            yield from (self._window(leg, one, on) for one in ways)

    def setting(self, legs: tuple[Leg, ...]) -> Setting:
        """How the points stand that a train needs along these legs."""
        return frozenset(self.wiring.literal(leg.piece, leg.position) for leg in legs if leg.position)

    def _agreeing(self, held: tuple[Leg, ...], reach: Reach) -> Reach:
        """What of a reach the points allow that stand for the legs `held` already."""
        for count, leg in enumerate(reach.legs):
            held = (*held, leg)
            if not agree(self.setting(held)):
                return Reach(reach.legs[:count], False)
        return reach

    def _window(self, leg: Leg, before: Reach, behind: Reach) -> Window:
        legs = (*(one.turned() for one in reversed(before.legs)), leg, *behind.legs)
        place = -sum(one.length for one in before.legs)
        starts = []
        for one in legs:
            starts.append(place)
            place += one.length
        first = starts[0] if before.stops else None
        return Window(legs, tuple(starts), first, place if behind.stops else None, self.setting(legs))

    def _insulated(self, leg: Leg) -> Leg:
        """A leg with a dead stretch at every cut, half of it on either side."""
        return leg._replace(
            left=leg.left + self._insulation(leg, leg.left, "left"),
            right=leg.right + self._insulation(leg, leg.right, "right"),
        )

    def _insulation(self, leg: Leg, rail: Rail, side: str) -> Rail:
        within = [one.start for one in rail[1:]] if isinstance(self.layout.pieces[leg.piece].statement, Segment) else []
        first = (EndAt(leg.piece, leg.enter), OTHER_SIDE[side]) in self.gapped
        last = (EndAt(leg.piece, leg.leave), side) in self.gapped
        places = [0] * first + within + [leg.length] * last
        half = self.gap // 2
        return tuple(Stretch(max(at - half, 0), min(at + half, leg.length), None) for at in places)

    def code(self, name: str) -> float:
        """The code of the rail at a piece: that of a segment which meets it, else the usual one of the scale."""
        ends = (EndAt(name, end) for end in self.layout.pieces[name].template.ends)
        met = (self.layout.pieces[self.beyond[end].piece].statement for end in ends if end in self.beyond)
        codes = (float(one.code) for one in met if isinstance(one, Segment) and one.code)
        return next(codes, standard(self.layout.scale).rail_code)
