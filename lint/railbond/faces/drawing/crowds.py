"""Which labels can get in one another's way. All others have their best places."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from itertools import combinations, islice
from math import inf
from typing import NamedTuple

from .bars import AIR, Obstacle
from .label_places import Label, LabelChoices, LabelPlace
from .label_room import LabelRoom
from .lately import Lately
from .shapes import Box

Places = tuple[LabelPlace, ...]

MOST, FEW = 14, 7
"""Free places of one label that are looked at; the second where there are many labels."""
MANY = 250
"""More labels than these are many."""


class FreePlaces(NamedTuple):
    """Free places of a label, the best first; and the stretch of paper that was looked at, with its mark then."""

    found: tuple[LabelPlace, ...]
    around: Box
    mark: int


KNOWN: Lately[tuple[LabelChoices, int], FreePlaces] = Lately(4000, ages=True)
"""What was found free, by the places that were looked at and how many were wanted."""
BESIDE: Lately[tuple[Places, Places], bool] = Lately(20000, ages=True)
"""Whether any of some places hinders any of others."""


class Seeker:
    """The free places of a label: the best one, and the others once they are needed."""

    def __init__(self, label: Label, room: LabelRoom, most: int) -> None:
        self._places, self._room, self._most = label.places, room, most
        self._search: _Search | None = None
        self.found: Places = self._free(1)

    def others(self) -> Places:
        self.found = self._free(self._most)
        return self.found[1:]

    def _free(self, most: int) -> Places:
        """As many free places; those of before where nothing has changed on the paper round them."""
        if not self._room.marked:
            self._search = self._search or _Search(self._places, self._room)
            return self._search.first(most)
        known = KNOWN.get((self._places, most))
        if not known or known.mark != self._room.mark(known.around):
            self._search = self._search or _Search(self._places, self._room)
            found, around = self._search.first(most), self._search.around
            known = KNOWN.put((self._places, most), FreePlaces(found, around, self._room.mark(around)))
        return known.found


class _Search:
    """Looks through the places of a label, the best first, and goes on where it was left."""

    def __init__(self, places: LabelChoices, room: LabelRoom) -> None:
        self._room, self._rest = room, islice(places.each(), 6 * MOST)
        self._found: list[LabelPlace] = []
        self._in_the_way: list[Obstacle] = []
        self._around = inf, -inf, inf, -inf

    def first(self, most: int) -> Places:
        room, found = self._room, self._found
        while len(found) < most and (place := next(self._rest, None)):
            box = place.box
            possible = LabelPlace(box, place.lines(), place.data) if room.is_free(box, self._in_the_way) else None
            if possible and all(map(room.is_clear, possible.lines)):
                found.append(possible)
            if room.marked:
                self._look_at(possible.bounds if possible else box.edges)
        return tuple(found)

    def _look_at(self, bounds: tuple[float, float, float, float]) -> None:
        west, east, top, low = self._around
        left, right, up, down = bounds
        self._around = min(west, left), max(east, right), min(top, up), max(low, down)

    @property
    def around(self) -> Box:
        """The stretch of paper that was looked at so far."""
        west, east, top, low = self._around
        return Box((west + east) / 2, (top + low) / 2, east - west + 2 * AIR, low - top + 2 * AIR)


def crowded(seekers: list[Seeker]) -> set[int]:
    """The labels that may have to leave their best places, with all places that they could take.

    The best place of any other is in nobody's way, so what is best for those in the crowd is best for all.
    """
    near: defaultdict[tuple[int, int], list[tuple[int, LabelPlace]]] = defaultdict(list)

    def met(index: int, place: LabelPlace) -> Iterator[int]:
        for square in place.squares:
            for other, there in near[square]:
                if other != index and other not in crowd and place.hinders(there):
                    yield other

    crowd: set[int] = set()
    waiting: list[int] = []
    for index, seeker in enumerate(seekers):
        for place in seeker.found:
            if others := set(met(index, place)):
                waiting += [index, *others]
            for square in place.squares:
                near[square].append((index, place))
    while waiting:
        index = waiting.pop()
        if index not in crowd:
            crowd.add(index)
            for place in seekers[index].others():
                waiting += met(index, place)
    return crowd


def groups(free: list[Places], crowded: set[int]) -> list[list[int]]:
    """Those labels of a crowd whose places hang together, each group in order."""
    squares: defaultdict[tuple[int, int], set[int]] = defaultdict(set)
    for index in sorted(crowded):
        for place in free[index]:
            for square in place.squares:
                squares[square].add(index)
    above = list(range(len(free)))

    def root(index: int) -> int:
        while above[index] != index:
            above[index] = above[above[index]]
            index = above[index]
        return index

    tried: set[tuple[int, int]] = set()
    for held in squares.values():
        for one, other in combinations(sorted(held), 2):
            if (one, other) not in tried and root(one) != root(other):
                tried.add((one, other))
                if _hinder(free[one], free[other]):
                    above[root(other)] = root(one)
    found: defaultdict[int, list[int]] = defaultdict(list)
    for index in sorted(crowded):
        found[root(index)].append(index)
    return list(found.values())


def _hinder(some: Places, others: Places) -> bool:
    known = BESIDE.get((some, others))
    if known is None:
        known = any(here.hinders(there) for here in some for there in others)
        BESIDE.put((some, others), known)
    return known
