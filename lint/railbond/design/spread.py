"""Whether every place of a rail lies near enough to a drop: asked again and again, of the track around one."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from .covering import ROUNDING, DropSite
from .track_map import Node, TrackMap, TrackStretch

FAR = float("inf")


class Spread:
    """Drops on a map of track, and those that are soldered to it already (`soldered`, nodes of the map)."""

    def __init__(self, track: TrackMap, soldered: set[Node], sites: list[DropSite], most: float) -> None:
        self.track, self.soldered, self.most = track, soldered, most
        self.sites = list(sites)
        self.on: dict[str, list[float]] = {}
        for site in sites:
            self.on.setdefault(site.piece, []).append(site.place)
        self.plain: dict[str, list[TrackStretch]] = {}
        for stretch in track.stretches:
            if stretch.piece:
                self.plain.setdefault(stretch.piece, []).append(stretch)
        self.near: dict[Node, dict[Node, float]] = {}
        """What lies within the limit of a node, as far as that was asked: track does not change."""
        self.back: dict[Node, float] = {}
        """Meters from a node to the nearest drop on track that ends there, as far as that was asked."""

    def moves(self, number: int, to: DropSite) -> bool:
        """Moves a drop, if every place around it still has one near enough."""
        return self.moves_all([number], [to])

    def moves_all(self, numbers: list[int], to: list[DropSite]) -> bool:
        """Moves several drops at once, on the same condition."""
        before = [self.sites[number] for number in numbers]
        self._put(before, to)
        if self._is_reached(*before, *to):
            for number, site in zip(numbers, to, strict=True):
                self.sites[number] = site
            return True
        self._put(to, before)
        return False

    def length(self, piece: str) -> float:
        """Meters of a segment."""
        return self.track.facts.layout.pieces[piece].template.length

    def has_drop(self, piece: str) -> bool:
        """Whether anything is or will be soldered to a segment."""
        return bool(self.on.get(piece) or self.track.marks.get(piece))

    def beside(self, site: DropSite, most: float, but: DropSite | None = None) -> bool:
        """Whether another drop on the same segment is nearer than so many meters."""
        places = [*self.on.get(site.piece, ()), *self.track.marks.get(site.piece, ())]
        places.remove((but or site).place)
        return any(abs(place - site.place) < most for place in places)

    def around(self, site: DropSite) -> list[TrackStretch]:
        """The stretches within the limit of a drop."""
        starts = dict(_ends(self.stretch(site), site))
        return [one for node in self.track.distances(starts, self.most) for one in self.track.at[node]]

    def thin(self) -> None:
        """Takes out every drop without which every place has one near enough, the last ones first."""
        for number in reversed(range(len(self.sites))):
            site = self.sites[number]
            self._put([site], [])
            if self._is_reached(site):
                del self.sites[number]
            else:
                self._put([], [site])

    def _put(self, sites: list[DropSite], to: list[DropSite]) -> None:
        for site in sites:
            self.on[site.piece].remove(site.place)
        for site in to:
            self.on.setdefault(site.piece, []).append(site.place)
        self._forget(*sites, *to)

    def _forget(self, *sites: DropSite) -> None:
        """The drops on these pieces are others now."""
        for stretch in (one for site in sites for one in self.plain[site.piece]):
            self.back.pop(stretch.one, None)
            self.back.pop(stretch.other, None)

    def _is_reached(self, *around: DropSite) -> bool:
        """Whether each place within reach of some sites has a drop near enough."""
        asked: dict[int, TrackStretch] = {}
        for site in around:
            own = self.stretch(site)
            asked[id(own)] = own
            for start, meters in _ends(own, site):
                near = (node for node, far in self._near(start).items() if meters + far <= self.most)
                asked |= {id(one): one for node in near for one in self.track.at[node]}
        far: dict[Node, float] = {}
        return all(self._widest(stretch, far) <= self.most + ROUNDING for stretch in asked.values())

    def _near(self, node: Node) -> dict[Node, float]:
        if node not in self.near:
            self.near[node] = self.track.distances({node: 0.0}, self.most + ROUNDING)
        return self.near[node]

    def _far(self, node: Node, known: dict[Node, float]) -> float:
        """Meters to the nearest drop within the limit: beyond it nothing can be near enough."""
        if node not in known:
            known[node] = self._nearest(node)
        return known[node]

    def _nearest(self, node: Node) -> float:
        best = FAR
        for there, far in self._near(node).items():  # the nearest first
            if far >= best:
                break
            best = min(best, far + self._back(there))
        return best if best <= self.most + ROUNDING else FAR

    def _back(self, node: Node) -> float:
        if node not in self.back:
            own = (one for one in self.track.at[node] if one.piece in self.on)
            sites = ((one, DropSite(one.piece, place)) for one in own for place in self._places(one))
            ways = (meters for one, site in sites for end, meters in _ends(one, site) if end == node)
            self.back[node] = 0.0 if node in self.soldered else min(ways, default=FAR)
        return self.back[node]

    def _widest(self, stretch: TrackStretch, far: dict[Node, float]) -> float:
        """How far the place of a stretch lies from a drop that lies furthest from one."""
        marks = [(stretch.start, self._far(stretch.one, far))]
        marks += [(place, 0.0) for place in self._places(stretch)]
        marks.append((stretch.start + stretch.length, self._far(stretch.other, far)))
        return max((here + there + place - before) / 2 for (before, here), (place, there) in pairwise(marks))

    def _places(self, stretch: TrackStretch) -> list[float]:
        low, high = stretch.start, stretch.start + stretch.length
        return sorted(place for place in self.on.get(stretch.piece, ()) if low <= place <= high)

    def stretch(self, site: DropSite) -> TrackStretch:
        """The plain track on which a site lies."""
        found = (one for one in self.plain[site.piece] if one.start <= site.place <= one.start + one.length)
        return next(found, self.plain[site.piece][-1])


def _ends(stretch: TrackStretch, site: DropSite) -> Iterator[tuple[Node, float]]:
    """The ends of the track on which a site lies, each with the meters to it."""
    along = site.place - stretch.start
    yield stretch.one, max(along, 0.0)
    yield stretch.other, max(stretch.length - along, 0.0)
