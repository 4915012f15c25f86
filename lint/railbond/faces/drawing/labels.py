"""Places labels and marks all together, so that none lies over text, a rail or another mark.

Every label brings its places, the best first. What is minimized is the sum of their ranks. Labels that can get in one
another's way make a group; a small group is searched whole, so that its places are the best there are. In a larger one
labels are placed one by one, those with the fewest free places first, and one that finds none makes another give way.
A label that finds no place at all is led out of the crowd by a line.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Iterator
from itertools import combinations, islice
from math import cos, pi, sin
from typing import NamedTuple

from .course import Point
from .label_room import Box, LabelRoom, Line

MOST, FEW = 14, 5
"""Free places of one label that are looked at; the second where there are many labels."""
WHOLE = 7
"""Labels of the largest group that is searched whole."""
PATIENCE = 2500.0
"""How far a label is led out before its line may run under other words."""
MANY = 250
"""Of more labels than these all are taken for one group."""
STEPS = 20000
"""Places tried in one group until the best so far is taken."""


class LabelPlace:
    """A place for a label: its box, the lines that lead to it, and whatever its drawing needs to know."""

    __slots__ = ("box", "lines", "data", "bounds")

    def __init__(self, box: Box, lines: tuple[Line, ...] = (), data: tuple[float, ...] = ()) -> None:
        self.box, self.lines, self.data = box, lines, data
        x, y, width, height = box
        west, east, top, low = x - width / 2, x + width / 2, y - height / 2, y + height / 2
        for line in lines:
            (one, up), (other, down) = line.one, line.other
            west, east = min(west, one, other), max(east, one, other)
            top, low = min(top, up, down), max(low, up, down)
        self.bounds = west - 4, east + 4, top - 4, low + 4

    def hinders(self, other: LabelPlace) -> bool:
        west, east, top, low = self.bounds
        far_west, far_east, far_top, far_low = other.bounds
        if west > far_east or far_west > east or top > far_low or far_top > low:
            return False
        if self.box.meets(other.box):
            return True
        return bool(self.lines or other.lines) and (
            any(line.meets(self.box, 2.0) for line in other.lines)
            or any(line.meets(other.box, 2.0) for line in self.lines)
            or any(one.one != two.one and one.crossing(two) is not None for one in self.lines for two in other.lines)
        )


class Label(NamedTuple):
    """A label: its places, how it is drawn at one, the point that it tells of, and its width and height.

    Where it is led out of the crowd, its place has no `data`.
    """

    places: Iterator[LabelPlace]
    drawn: Callable[[LabelPlace], str]
    at: Point
    size: tuple[float, float]


def placed(labels: list[Label], room: LabelRoom) -> list[str]:
    """The labels drawn, in their order; what they take up is taken in `room`."""
    seekers = [_Seeker(label, room, MOST if len(labels) < MANY else FEW) for label in labels]
    free = [seeker.found for seeker in seekers]
    crowded = _crowded(seekers)
    chosen = {index: places[0] for index, places in enumerate(free) if places and index not in crowded}
    for group in _groups(free, crowded):
        chosen |= _whole(group, free) if len(group) <= WHOLE else _one_by_one(group, free)
    for place in chosen.values():
        _take(place, room)
    for index, label in enumerate(labels):
        if index not in chosen:
            chosen[index] = _led_out(label, room)
            _take(chosen[index], room)
    return [label.drawn(chosen[index]) for index, label in enumerate(labels)]


class _Seeker:
    """The free places of a label: the best one, and the others once they are needed."""

    def __init__(self, label: Label, room: LabelRoom, most: int) -> None:
        self._most = most
        self._free = (
            place
            for place in islice(label.places, 5 * most)
            if room.is_free(place.box) and all(map(room.is_clear, place.lines))
        )
        self.found = list(islice(self._free, 1))

    def others(self) -> list[LabelPlace]:
        more = list(islice(self._free, self._most - len(self.found)))
        self.found += more
        return more


def _crowded(seekers: list[_Seeker]) -> set[int]:
    """The labels that may have to leave their best places, with all places that they could take.

    The best place of any other is in nobody's way, so what is best for those in the crowd is best for all.
    """
    near: defaultdict[tuple[int, int], list[tuple[int, LabelPlace]]] = defaultdict(list)

    def met(index: int, place: LabelPlace) -> Iterator[int]:
        for square in _reach(place):
            for other, there in near[square]:
                if other != index and other not in crowd and place.hinders(there):
                    yield other

    crowd: set[int] = set()
    waiting: list[int] = []
    for index, seeker in enumerate(seekers):
        for place in seeker.found:
            if others := set(met(index, place)):
                waiting += [index, *others]
            for square in _reach(place):
                near[square].append((index, place))
    while waiting:
        index = waiting.pop()
        if index not in crowd:
            crowd.add(index)
            for place in seekers[index].others():
                waiting += met(index, place)
    return crowd


def _take(place: LabelPlace, room: LabelRoom) -> None:
    room.take(place.box)
    for line in place.lines:
        room.draw(line)


def _groups(free: list[list[LabelPlace]], crowded: set[int]) -> list[list[int]]:
    """Those labels of a crowd whose places hang together, each group in order."""
    squares: defaultdict[tuple[int, int], set[int]] = defaultdict(set)
    for index in sorted(crowded):
        for place in free[index]:
            for square in _reach(place):
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
    groups: defaultdict[int, list[int]] = defaultdict(list)
    for index in sorted(crowded):
        groups[root(index)].append(index)
    return list(groups.values())


def _reach(place: LabelPlace) -> Iterator[tuple[int, int]]:
    west, east, top, low = place.bounds
    for column in range(int(west // 96), int(east // 96) + 1):
        for row in range(int(top // 96), int(low // 96) + 1):
            yield column, row


def _whole(group: list[int], free: list[list[LabelPlace]]) -> dict[int, LabelPlace]:
    """The best places of a small group: as few labels without one as can be, then the least ranks."""
    order = sorted(group, key=lambda index: len(free[index]))
    clashes = _clashes(order, free)
    best: tuple[float, tuple[int, ...]] = (float("inf"), ())
    steps = 0

    def search(depth: int, cost: float, taken: int, ranks: tuple[int, ...]) -> None:
        nonlocal best, steps
        steps += 1
        if cost >= best[0] or steps > STEPS:
            return
        if depth == len(order):
            best = (cost, ranks)
            return
        for rank, (bit, hindered) in enumerate(clashes[depth]):
            if not hindered & taken:
                search(depth + 1, cost + rank, taken | bit, (*ranks, rank))
        search(depth + 1, cost + 1000, taken, (*ranks, -1))

    search(0, 0.0, 0, ())
    return {index: free[index][rank] for index, rank in zip(order, best[1], strict=True) if rank >= 0}


def _clashes(order: list[int], free: list[list[LabelPlace]]) -> list[list[tuple[int, int]]]:
    """For each place of each label a bit of its own, and the bits of those places of earlier labels that it hinders."""
    numbered: list[tuple[int, LabelPlace]] = []
    found = []
    for index in order:
        first = len(numbered)
        own = [(1 << (first + rank), place) for rank, place in enumerate(free[index])]
        found.append([(bit, sum(other for other, there in numbered if place.hinders(there))) for bit, place in own])
        numbered += own
    return found


def _one_by_one(group: list[int], free: list[list[LabelPlace]]) -> dict[int, LabelPlace]:
    taken: dict[int, LabelPlace] = {}
    near: defaultdict[tuple[int, int], set[int]] = defaultdict(set)

    def hindered(place: LabelPlace) -> set[int]:
        there = {index for square in _reach(place) for index in near[square]}
        return {index for index in there if taken[index].hinders(place)}

    def take(index: int, place: LabelPlace | None) -> None:
        if index in taken:
            for square in _reach(taken.pop(index)):
                near[square].discard(index)
        if place:
            taken[index] = place
            for square in _reach(place):
                near[square].add(index)

    def gives_way(index: int, place: LabelPlace) -> bool:
        """Whether all that stand in the way of a place find another one."""
        moved = {}
        for other in hindered(place):
            before = taken[other]
            spare = (one for one in free[other] if not one.hinders(place) and hindered(one) <= {other})
            moved[other] = before
            found = next(spare, None)
            if found is None:
                for back, was in moved.items():
                    take(back, was)
                return False
            take(other, found)
        take(index, place)
        return True

    for index in sorted((one for one in group if free[one]), key=lambda one: (len(free[one]), one)):
        clear = next((place for place in free[index] if not hindered(place)), None)
        if clear:
            take(index, clear)
        else:
            any(gives_way(index, place) for place in free[index])
    return taken


def _led_out(label: Label, room: LabelRoom) -> LabelPlace:
    """The nearest free place to which a line can lead past all other words."""
    width, height = label.size
    far = 30.0
    while True:
        for step in (one for one in range(72) if one % 36):  # not along level track
            angle = 2 * pi * step / 72
            x, y = label.at[0] + cos(angle) * (far + width / 2), label.at[1] + sin(angle) * (far + height / 2)
            box = Box(x, y, width, height)
            if not room.is_free(box):
                continue
            line = Line(label.at, (x, y), 0.6).up_to(box)
            if far > PATIENCE or room.is_clear(line):
                return LabelPlace(box, (line,))
        far += max(18.0, far / 8)
