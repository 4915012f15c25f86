"""Where a drop is soldered, within what the spacing limit leaves open: as a person would choose the place.

At the middle of its segment where that does, or as near to it; one to each segment rather than two to one and none to
the next; several on one segment evenly; and at a round figure, which is easier to find under a layout.
"""

from __future__ import annotations

from collections.abc import Iterator

from .covering import DropSite
from .spread import Spread

SWEEPS = 2
"""How often all drops are looked at: one that gives way makes room for the next."""
MANY = 200
"""Drops of which all are looked at once only."""
APART = 0.1
"""Meters that two drops to one rail keep from each other, and that a drop keeps from the end of its rail."""
SHARES = (1.0, 0.75, 0.5, 0.25)
"""Shares of the way to the middle of the segment."""
MOST_NEIGHBORS = 4
"""Segments without a drop that are tried for one that would be the second on its own."""


def placed(spread: Spread, steps: tuple[float, float]) -> list[DropSite]:
    """As few of the sites as do, each where a person would put it. `steps` are round figures, in meters."""
    spread.thin()
    for _ in range(SWEEPS if len(spread.sites) <= MANY else 1):
        if not [number for number in range(len(spread.sites)) if _is_moved(spread, number, steps)]:
            break
    for piece in dict.fromkeys(site.piece for site in spread.sites):
        _even(spread, piece, steps)
    return spread.sites


def _is_moved(spread: Spread, number: int, steps: tuple[float, float]) -> bool:
    """Whether a drop finds a better place: the first of those wished for that does."""
    for site in _wished(spread, number, steps):
        if site == spread.sites[number]:
            return False
        if spread.moves(number, site):
            return True
    return False


def _wished(spread: Spread, number: int, steps: tuple[float, float]) -> Iterator[DropSite]:
    site = spread.sites[number]
    length = spread.length(site.piece)
    if spread.beside(site, length) or min(site.place, length - site.place) < min(APART, length / 4):
        yield from _bare(spread, site, steps[1])
    places = [site.place + (length / 2 - site.place) * share for share in SHARES]
    places = [round(place / step) * step for place in places for step in steps if length > 1 or step is not steps[0]]
    places += [rounded * step for step in steps for rounded in _around(site.place / step)]
    for place in dict.fromkeys(round(place, 4) for place in places):
        to = site._replace(place=place)
        if 0 < place < length and not spread.beside(to, APART, but=site):
            yield to


def _around(value: float) -> tuple[int, int]:
    return int(value), int(value) + 1


def _bare(spread: Spread, site: DropSite, step: float) -> Iterator[DropSite]:
    """The middles of segments near by that have no drop, the longest first."""
    names = {one.piece for one in spread.around(site) if one.piece and not spread.has_drop(one.piece)}
    for name in sorted(names, key=lambda one: (-spread.length(one), one))[:MOST_NEIGHBORS]:
        yield DropSite(name, round(spread.length(name) / 2 / step) * step)


def _even(spread: Spread, piece: str, steps: tuple[float, float]) -> None:
    """Spreads the drops of one segment evenly over it, if that does."""
    own = [number for number, site in enumerate(spread.sites) if site.piece == piece]
    if len(own) > 1 and not spread.track.marks.get(piece):
        each = spread.length(piece) / len(own)
        own.sort(key=lambda number: spread.sites[number].place)
        for step in steps:
            places = [round((place + 0.5) * each / step) * step for place in range(len(own))]
            if spread.moves_all(own, [DropSite(piece, round(place, 4)) for place in places]):
                return
