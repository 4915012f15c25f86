"""The ways that trains can go: leg by leg over pieces and through the ends where pieces meet."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from railbond.circuit.graph import Setting, agree
from railbond.circuit.wiring import Wiring
from railbond.layout.limits import limit
from railbond.layout.model import EndAt, Meeting
from railbond.layout.shape import Size
from railbond.layout.template import OTHER_SIDE

from . import micrometers
from .frogs import size_of
from .geometry import Leg, Rail, Stretch, legs_of
from .standards import standard
from .windows import AWAY, OPEN, STOP, Window

MOST_WINDOWS = 512
"""Ways that are followed over one piece, within an engine's length on either side of it."""


class WalkedTrack:
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
        self.gap = micrometers(limit(layout, "gap-length") or 0.0)
        self.stops = frozenset(layout.stops)
        self.cut_short: set[str] = set()
        """Pieces over which more ways lead than were followed."""
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

    def windows(
        self, leg: Leg, far: int, may_stay: bool = False, keep: Callable[[Window], bool] = lambda _: True
    ) -> Iterator[Window]:
        """Every way that a train goes over a leg, `far` micrometers before and behind it, the points standing for it.

        With `may_stay`, also those on which it stays before points. What `keep` refuses is not followed further.
        """
        waiting = [Window((leg,), (0,), leg.length, OPEN, OPEN, self.setting((leg,)))]
        left = MOST_WINDOWS
        while waiting and left:
            window = waiting.pop()
            if keep(window):
                grown = self._grown(window, -far, leg.length + far, may_stay)
                waiting += grown
                left -= not grown
                yield from () if grown else (window,)
        if waiting:
            self.cut_short.add(leg.piece)

    def _grown(self, window: Window, first: int, last: int, may_stay: bool) -> list[Window]:
        """The window with one leg more, by each way there is; none once it reaches from `first` to `last`."""
        if window.behind == OPEN and window.stop < last:
            follow = self.follow(window.legs[-1])
            longer = [window.with_last(leg, self.setting((leg,))) for leg in follow]
            end = STOP if follow or self._stops(window.legs[-1]) else AWAY
            return self._or_stay(longer, window._replace(behind=end), may_stay)
        if window.before == OPEN and window.starts[0] > first:
            back = window.legs[0].turned()
            follow = self.follow(back)
            longer = [window.with_first(leg.turned(), self.setting((leg,))) for leg in follow]
            end = STOP if follow or self._stops(back) else AWAY
            return self._or_stay(longer, window._replace(before=end), may_stay)
        return []

    def _or_stay(self, longer: list[Window], ended: Window, may_stay: bool) -> list[Window]:
        """The longer windows whose points can stand so, or else, or as well before points, the one that ends here."""
        found = [one for one in longer if agree(one.setting)]
        points = any(len(one.setting) > len(ended.setting) for one in found)
        return [*found, ended] if not found or (may_stay and points) else found

    def _stops(self, leg: Leg) -> bool:
        return EndAt(leg.piece, leg.leave) in self.stops

    def setting(self, legs: tuple[Leg, ...]) -> Setting:
        """How the points stand that a train needs along these legs."""
        return frozenset(self.wiring.literal(leg.piece, leg.position) for leg in legs if leg.position)

    def _insulated(self, leg: Leg) -> Leg:
        """A leg with a dead stretch at every cut, half of it on either side."""
        return leg._replace(
            left=leg.left + self._insulation(leg, leg.left, "left"),
            right=leg.right + self._insulation(leg, leg.right, "right"),
        )

    def _insulation(self, leg: Leg, rail: Rail, side: str) -> Rail:
        within = [one.start for one in rail[1:]] if self.layout.pieces[leg.piece].template.is_plain else []
        first = (EndAt(leg.piece, leg.enter), OTHER_SIDE[side]) in self.gapped
        last = (EndAt(leg.piece, leg.leave), side) in self.gapped
        places = [0] * first + within + [leg.length] * last
        half = self.gap // 2
        return tuple(Stretch(max(at - half, 0), min(at + half, leg.length), None) for at in places)

    def code(self, name: str) -> float:
        """The code of the rail at a piece: its own or that of a segment which meets it, else the plan's usual one, else
        that of the scale."""
        own = self.layout.pieces[name].template
        ends = (EndAt(name, end) for end in own.ends)
        met = (self.layout.pieces[self.beyond[end].piece].template for end in ends if end in self.beyond)
        codes = (one.shape.code for one in (own, *met) if one.shape.code)
        usual = self.layout.rails.code if self.layout.rails else standard(self.layout.scale).rail_code
        return next(codes, float(usual))
