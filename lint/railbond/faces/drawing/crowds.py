"""Labels that get in one another's way, settled crowd by crowd. All others have their best places.

A crowd is settled as if there were no other labels: none of it could be better off then. Only where what comes out is
in another's way are the two settled as one, so that what is best for each crowd is best for all.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Iterable

from .choosing import WHOLE
from .free_places import Seeker
from .label_places import LabelPlace

Settle = Callable[[list[Seeker]], dict[int, LabelPlace]]
"""Places for the labels of a crowd, by their numbers in it; none for those that find no room."""


def settled(seekers: list[Seeker], settle: Settle) -> dict[int, LabelPlace]:
    """The place of each label that finds one, by its number."""
    crowds = _Crowds({index: seeker.found[0] for index, seeker in enumerate(seekers) if seeker.found})
    while crowds.waiting:
        crowd = crowds.waiting.pop()
        if not crowds.stands(crowd):
            continue
        if len(crowd) > WHOLE:
            crowds.widen(crowd, seekers)
        crowd = sorted(crowd)
        places = settle([seekers[index] for index in crowd])
        crowds.put({crowd[number]: place for number, place in places.items()})
    return crowds.chosen


class _Crowds:
    """Which labels hang together, those crowds that wait to be settled, and the places of all others."""

    def __init__(self, best: dict[int, LabelPlace]) -> None:
        self.chosen: dict[int, LabelPlace] = {}
        self.waiting: list[list[int]] = []
        self._crowd = {index: [index] for index in best}
        self._near: defaultdict[tuple[int, int], list[int]] = defaultdict(list)
        for index, place in best.items():
            self._join([index, *self._met(place)])
            self._take(index, place)
        for crowd in list({id(crowd): crowd for crowd in self._crowd.values() if len(crowd) > 1}.values()):
            self._wait(crowd)

    def put(self, places: dict[int, LabelPlace]) -> None:
        """Lets a crowd have these places. Where they are in the way of other labels, all wait as one crowd."""
        met = dict.fromkeys(other for place in places.values() for other in self._met(place))
        for index, place in places.items():
            self._take(index, place)
        if met:
            self._wait(self._join([*places, *met]))

    def stands(self, crowd: list[int]) -> bool:
        """Whether a crowd has not been taken into another."""
        return self._crowd[crowd[0]] is crowd

    def widen(self, crowd: list[int], seekers: list[Seeker]) -> None:
        """Takes into a large crowd all whom any of its places could hinder, so that it is settled only once."""
        self._leave(crowd)
        for index in crowd:  # grows on the way
            seekers[index].look_to_end()
            for place in seekers[index].found:
                for other in self._met(place):
                    if other in self.chosen:
                        joined = list(self._crowd[other])
                        self._join([index, other])
                        self._leave(joined)

    def _met(self, place: LabelPlace) -> list[int]:
        """The labels whose places are in the way of one."""
        near = dict.fromkeys(other for square in place.squares for other in self._near[square])
        return [other for other in near if place.hinders(self.chosen[other])]

    def _take(self, index: int, place: LabelPlace) -> None:
        self.chosen[index] = place
        for square in place.squares:
            self._near[square].append(index)

    def _wait(self, crowd: list[int]) -> None:
        """Takes the places of a crowd away until it is settled."""
        if len(crowd) > WHOLE:  # the large ones last, and they stay where they are so long
            self.waiting.insert(0, crowd)
        else:
            self.waiting.append(crowd)
            self._leave(crowd)

    def _leave(self, crowd: list[int]) -> None:
        for index in crowd:
            if place := self.chosen.pop(index, None):
                for square in place.squares:
                    self._near[square].remove(index)

    def _join(self, indexes: Iterable[int]) -> list[int]:
        """Makes one crowd of those of some labels."""
        whole, *others = (self._crowd[index] for index in indexes)
        for other in others:
            if other is not whole and self._crowd[other[0]] is not whole:
                whole += other
                self._crowd.update(dict.fromkeys(other, whole))
        return whole
