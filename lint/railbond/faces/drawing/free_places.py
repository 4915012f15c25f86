"""The free places of a label, the best first: each is looked for only once it is needed."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import islice
from math import inf
from typing import NamedTuple

from .bars import AIR
from .label_places import Label, LabelChoices, LabelPlace, PossiblePlace
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


class Seeker:
    """The free places of a label: the best one, and more once they are needed."""

    def __init__(self, label: Label, room: LabelRoom, most: int) -> None:
        self._places, self._room, self._most = label.places, room, most
        self._search: _Search | None = None
        self._wanted = 1
        self.found: Places = self._free(1)

    @property
    def at_end(self) -> bool:
        """Whether these are all that it may have."""
        return len(self.found) < self._wanted or self._wanted == self._most

    def look_on(self) -> None:
        """Finds twice as many, if there are."""
        self._wanted = min(2 * self._wanted, self._most)
        self.found = self._free(self._wanted)

    def look_to_end(self) -> None:
        """Finds all that it may have."""
        if not self.at_end:
            self._wanted = self._most
            self.found = self._free(self._most)

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
        each = islice(places.each(), 6 * MOST)
        self._room, self._size = room, places.size
        self._free = room.free(self._watched(each) if room.marked else each, places.size)
        self._found: list[LabelPlace] = []
        self._around = inf, -inf, inf, -inf

    def first(self, most: int) -> Places:
        room, found = self._room, self._found
        while len(found) < most and (free := next(self._free, None)):
            x, y, lines = free
            box = Box(x, y, *self._size)
            place = LabelPlace(box, lines(box))
            if all(map(room.is_clear, place.lines)):
                found.append(place)
            if room.marked:
                self._look_at(place.bounds)
        return tuple(found)

    def _watched(self, places: Iterator[PossiblePlace]) -> Iterator[PossiblePlace]:
        """Notes of all places that they are looked at."""
        for place in places:
            self._look_at(Box(place[0], place[1], *self._size).edges)
            yield place

    def _look_at(self, bounds: tuple[float, float, float, float]) -> None:
        west, east, top, low = self._around
        left, right, up, down = bounds
        self._around = min(west, left), max(east, right), min(top, up), max(low, down)

    @property
    def around(self) -> Box:
        """The stretch of paper that was looked at so far."""
        west, east, top, low = self._around
        return Box((west + east) / 2, (top + low) / 2, east - west + 2 * AIR, low - top + 2 * AIR)
