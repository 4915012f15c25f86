"""Which labels can get in one another's way. All others have their best places."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from itertools import combinations, islice

from .label_places import Label, LabelPlace
from .label_room import LabelRoom

MOST, FEW = 14, 7
"""Free places of one label that are looked at; the second where there are many labels."""
MANY = 250
"""More labels than these are many."""


class Seeker:
    """The free places of a label: the best one, and the others once they are needed."""

    def __init__(self, label: Label, room: LabelRoom, most: int) -> None:
        self._most = most
        self._free = (
            place
            for place in islice(label.places, 6 * MOST)
            if room.is_free(place.box) and all(map(room.is_clear, place.lines))
        )
        self.found = list(islice(self._free, 1))

    def others(self) -> list[LabelPlace]:
        more = list(islice(self._free, self._most - len(self.found)))
        self.found += more
        return more


def crowded(seekers: list[Seeker]) -> set[int]:
    """The labels that may have to leave their best places, with all places that they could take.

    The best place of any other is in nobody's way, so what is best for those in the crowd is best for all.
    """
    near: defaultdict[tuple[int, int], list[tuple[int, LabelPlace]]] = defaultdict(list)

    def met(index: int, place: LabelPlace) -> Iterator[int]:
        for square in reach(place):
            for other, there in near[square]:
                if other != index and other not in crowd and place.hinders(there):
                    yield other

    crowd: set[int] = set()
    waiting: list[int] = []
    for index, seeker in enumerate(seekers):
        for place in seeker.found:
            if others := set(met(index, place)):
                waiting += [index, *others]
            for square in reach(place):
                near[square].append((index, place))
    while waiting:
        index = waiting.pop()
        if index not in crowd:
            crowd.add(index)
            for place in seekers[index].others():
                waiting += met(index, place)
    return crowd


def groups(free: list[list[LabelPlace]], crowded: set[int]) -> list[list[int]]:
    """Those labels of a crowd whose places hang together, each group in order."""
    squares: defaultdict[tuple[int, int], set[int]] = defaultdict(set)
    for index in sorted(crowded):
        for place in free[index]:
            for square in reach(place):
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
                if any(here.hinders(there) for here in free[one] for there in free[other]):
                    above[root(other)] = root(one)
    found: defaultdict[int, list[int]] = defaultdict(list)
    for index in sorted(crowded):
        found[root(index)].append(index)
    return list(found.values())


def reach(place: LabelPlace) -> Iterator[tuple[int, int]]:
    west, east, top, low = place.bounds
    for column in range(int(west // 96), int(east // 96) + 1):
        for row in range(int(top // 96), int(low // 96) + 1):
            yield column, row
