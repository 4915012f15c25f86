"""The free places of a label, the best first: each is looked for only once it is needed."""

from __future__ import annotations

from itertools import islice
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
        self._room, self._rest = room, islice(places.each(), 6 * MOST)
        self._found: list[LabelPlace] = []
        self._in_the_way: list[Obstacle] = []
        self._around = inf, -inf, inf, -inf

    def first(self, most: int) -> Places:
        room, found, lately = self._room, self._found, self._in_the_way
        while len(found) < most and (place := next(self._rest, None)):
            box, lines, data = place
            x, y, width, height = box
            barred = room.bars(x, y, width / 2, height / 2, lately)
            possible = None if barred else LabelPlace(box, lines(), data)
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
