"""The fewest places for drops, so that no place of a rail is further along the metal from one than the limit.

Track that has no way round is a tree, and there going from its tips inwards is exact: a drop goes where the place that
is furthest back can just be reached, and no further. Where track closes a ring, the ring is opened in the middle of a
plain stretch of it, which may ask for one drop more than is needed; `covering` says how many rings there were.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Iterable
from typing import NamedTuple

from .track_map import Node, TrackMap, TrackStretch

ROUNDING = 1e-6

FROM_END = 0.03
"""Meters that a drop keeps from the end of a rail, where there is room."""


class DropSite(NamedTuple):
    """A place on plain track for a pair of drops, in meters from its start."""

    piece: str
    place: float


class Covering(NamedTuple):
    """Where drops go, and at least how many any wiring of this track needs; nodes that no drop can reach."""

    sites: list[DropSite]
    least: int
    bare: list[Node]


class _Reach(NamedTuple):
    """What is known of a branch at the node where it begins: `need` is how far back the furthest place lies that no
    drop reaches (None: none), `have` how far back the nearest drop is. `site` is the last place behind at which one
    could be soldered, `back` meters away."""

    need: float | None = 0.0
    have: float = float("inf")
    site: DropSite | None = None
    back: float = 0.0


def covering(track: TrackMap, reach: float, soldered: Iterable[Node], spare: float = 0.0) -> Covering:
    """Places for new pairs of drops, besides the nodes at which there is one already. New ones are placed for `reach`;
    track on which no place lies further than `spare` beyond that from what is soldered is left as it is. Without
    `spare` the number is exact, and the places are those on paper, up to a rail's very end."""
    return _Coverer(track, reach, set(soldered), spare).all()


class _Coverer:
    def __init__(self, track: TrackMap, reach: float, soldered: set[Node], spare: float) -> None:
        self.track, self.most, self.soldered = track, reach, soldered
        self.from_end = FROM_END if spare else 0.0
        self.wanting = set(wanting(track, reach + spare, soldered))
        self.sites: list[DropSite] = []
        self.bare: list[Node] = []
        self.rings = 0

    def all(self) -> Covering:
        seen: set[Node] = set()
        least = 0
        plain = [stretch.one for stretch in self.track.stretches if stretch.piece]
        for root in (*plain, *self.track.at):
            if root not in seen:
                before, self.rings = len(self.sites), 0
                self._one(root, seen)
                new = len(self.sites) - before
                least += new if not self.rings else max(new - self.rings, min(new, 1))
        return Covering(self.sites, least, self.bare)

    def _one(self, start: Node, seen: set[Node]) -> None:
        """All track that hangs together with a node, if any of it asks for a drop."""
        above, order, loose = self._tree(start, seen)
        if self.wanting.isdisjoint(order):
            return
        below: dict[Node, list[tuple[TrackStretch, Node]]] = {}
        for node, stretch in above.items():
            if stretch:
                below.setdefault(stretch.beyond(node), []).append((stretch, node))
        ahead: dict[Node, float] = {}
        for node in order:
            ahead[node] = self._ahead(above[node], node, ahead)
        reached: dict[Node, _Reach] = {}
        for node in reversed(order):
            branches = [self._up(stretch, child, reached.pop(child)) for stretch, child in below.get(node, ())]
            branches += [self._half(stretch, node) for stretch in loose.get(node, ())]
            reached[node] = self._join(node, branches, ahead[node])
        own = next((stretch for stretch in self.track.at[start] if stretch.piece), None)
        site = DropSite(own.piece, own.place(start, 0.0)) if own else None
        self._end(start, reached[start]._replace(site=site, back=0.0))

    def _tree(
        self, start: Node, seen: set[Node]
    ) -> tuple[dict[Node, TrackStretch | None], list[Node], dict[Node, list[TrackStretch]]]:
        """A spanning tree in which rings are opened on plain track, wherever there is any."""
        above: dict[Node, TrackStretch | None] = {start: None}
        order, used = [], set[int]()
        near, far = deque([start]), deque[tuple[TrackStretch, Node]]()
        loose: dict[Node, list[TrackStretch]] = {}
        while near or far:
            if not near:
                stretch, node = far.popleft()
                there = stretch.beyond(node)
                if id(stretch) in used:
                    continue
                used.add(id(stretch))
                if there in above:
                    self.rings += 1
                    loose.setdefault(node, []).append(stretch)
                    loose.setdefault(there, []).append(stretch)
                    continue
                above[there] = stretch
                near.append(there)
                continue
            here = near.popleft()
            order.append(here)
            seen.add(here)
            for stretch in self.track.at.get(here, ()):
                there = stretch.beyond(here)
                if stretch.piece:
                    far.append((stretch, here))
                elif id(stretch) not in used:
                    used.add(id(stretch))
                    self.rings += there in above
                    if there not in above:
                        above[there] = stretch
                        near.append(there)
        return above, order, loose

    def _half(self, stretch: TrackStretch, node: Node) -> _Reach:
        """A plain stretch that closes a ring, up to its middle, seen from one end."""
        half = stretch.length / 2
        middle = (stretch.piece, "half")
        start, stop = stretch.place(node, half), stretch.place(node, 0.0)
        piece = TrackStretch(middle, node, half, stretch.piece, start, stop)
        return self._up(piece, middle, _Reach(0.0, float("inf"), DropSite(stretch.piece, start)))

    def _ahead(self, stretch: TrackStretch | None, node: Node, ahead: dict[Node, float]) -> float:
        """Meters from a node on toward the root to the first place at which a pair can be soldered."""
        if stretch is None or stretch.piece:
            return self.from_end
        return stretch.length + ahead[stretch.beyond(node)]

    def _join(self, node: Node, branches: list[_Reach], ahead: float) -> _Reach:
        """What the branches at a node come to together; a drop in one of them for what none further on can reach."""
        if node in self.soldered:
            return _Reach(None, 0.0)
        if not branches:
            return _Reach(0.0)
        have = min(one.have for one in branches)
        own = [one for one in branches if one.need is not None and one.need + have > self.most + ROUNDING]
        while any(self._misses(one, ahead) for one in own):
            chosen = max((one for one in branches if one.site), key=lambda one: self._serves(one, own), default=None)
            if chosen is None or not chosen.site or not any(self._is_served(one, chosen) for one in own):
                break
            self._add(chosen.site, ROUNDING)
            have = min(have, chosen.back)
            own = [one for one in own if not self._is_served(one, chosen)]
        need = max((one.need or 0.0 for one in own), default=None)
        site = min((one for one in branches if one.site), key=lambda one: one.back, default=_Reach())
        return _Reach(need, have, site.site, site.back)

    def _misses(self, one: _Reach, ahead: float) -> bool:
        return one.site is not None and (one.need or 0.0) + ahead > self.most + ROUNDING

    def _is_served(self, one: _Reach, by: _Reach) -> bool:
        return one is by or (one.need or 0.0) + by.back <= self.most + ROUNDING

    def _serves(self, one: _Reach, branches: list[_Reach]) -> tuple[int, float]:
        """For how many branches the last site of one does, and how near it is."""
        return sum(self._is_served(other, one) for other in branches), -one.back

    def _up(self, stretch: TrackStretch, child: Node, behind: _Reach) -> _Reach:
        """What is known at the near end of a stretch, drops set on the way wherever the limit asks for one."""
        if not stretch.piece:
            need = behind.need + stretch.length if behind.need is not None else None
            return _Reach(need, behind.have + stretch.length, behind.site, behind.back + stretch.length)
        done, length, state = 0.0, stretch.length, behind
        while True:
            room = self.most - (state.need or 0.0) if state.need is not None else self.most - state.have
            if length - done <= room + ROUNDING:
                break
            if state.need is None:  # what lies beyond the reach of the drop behind
                done += max(room, 0.0)
                state = _Reach(0.0, float("inf"))
                continue
            spot = max(min(done + room, length - self.from_end), done)
            self._solder(stretch, child, spot)
            done, state = spot, _Reach(None, 0.0)
        rest, inset = length - done, min(self.from_end, length / 2)
        need = state.need + rest if state.need is not None else None
        return _Reach(need, state.have + rest, DropSite(stretch.piece, stretch.place(child, length - inset)), inset)

    def _solder(self, stretch: TrackStretch, child: Node, spot: float) -> None:
        self._add(DropSite(stretch.piece, stretch.place(child, spot)), ROUNDING)

    def _add(self, site: DropSite, most: float = FROM_END) -> None:
        """A drop, a little away from the end of its rail where there is room."""
        length = self.track.facts.layout.pieces[site.piece].template.length
        room = min(self.from_end, most, length / 2)
        self.sites.append(site._replace(place=round(min(max(site.place, room), length - room), 4)))

    def _end(self, root: Node, state: _Reach) -> None:
        """The last drop, for what is left where all branches come together."""
        if state.need is None:
            return
        if state.site:
            self._add(state.site, max(self.most - state.need, ROUNDING))
        else:
            self.bare.append(root)


def wanting(track: TrackMap, most: float, soldered: Iterable[Node]) -> Iterable[Node]:
    """The ends of all stretches with a place that lies further than the limit from what is soldered."""
    far, none = track.distances(dict.fromkeys(soldered, 0.0)), float("inf")
    for stretch in track.stretches:
        here, there = far.get(stretch.one, none), far.get(stretch.other, none)
        if (here + there + stretch.length) / 2 > most + ROUNDING:
            yield from (stretch.one, stretch.other)
