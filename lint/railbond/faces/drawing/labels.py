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
        xs = [box.x - box.width / 2, box.x + box.width / 2, *(x for line in lines for x, _ in line[:2])]
        ys = [box.y - box.height / 2, box.y + box.height / 2, *(y for line in lines for _, y in line[:2])]
        self.bounds = min(xs) - 4, max(xs) + 4, min(ys) - 4, max(ys) + 4

    def hinders(self, other: LabelPlace) -> bool:
        west, east, top, low = self.bounds
        far_west, far_east, far_top, far_low = other.bounds
        if west > far_east or far_west > east or top > far_low or far_top > low:
            return False
        return (
            self.box.meets(other.box)
            or any(line.meets(self.box, 2.0) for line in other.lines)
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
    most = MOST if len(labels) < MANY else FEW
    free = [_free(label, room, most) for label in labels]
    chosen: dict[int, LabelPlace] = {}
    for group in _groups(free) if len(labels) < MANY else [list(range(len(labels)))]:
        chosen |= _whole(group, free) if len(group) <= WHOLE else _one_by_one(group, free)
    for place in chosen.values():
        _take(place, room)
    for index, label in enumerate(labels):
        if index not in chosen:
            chosen[index] = _led_out(label, room)
            _take(chosen[index], room)
    return [label.drawn(chosen[index]) for index, label in enumerate(labels)]


def _free(label: Label, room: LabelRoom, most: int) -> list[LabelPlace]:
    found: list[LabelPlace] = []
    for place in islice(label.places, 5 * most):
        if room.is_free(place.box) and all(map(room.is_clear, place.lines)):
            found.append(place)
            if len(found) == most:
                break
    return found


def _take(place: LabelPlace, room: LabelRoom) -> None:
    room.take(place.box)
    for line in place.lines:
        room.draw(line)


def _groups(free: list[list[LabelPlace]]) -> list[list[int]]:
    """The labels whose places hang together, those of each group in order."""
    squares: defaultdict[tuple[int, int], set[int]] = defaultdict(set)
    for index, places in enumerate(free):
        for place in places:
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
    for index, places in enumerate(free):
        if places:
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
    best: tuple[float, dict[int, LabelPlace]] = (float("inf"), {})
    steps = 0

    def search(depth: int, cost: float, taken: dict[int, LabelPlace]) -> None:
        nonlocal best, steps
        steps += 1
        if cost >= best[0] or steps > STEPS:
            return
        if depth == len(order):
            best = (cost, dict(taken))
            return
        index = order[depth]
        for rank, place in enumerate(free[index]):
            if not any(place.hinders(other) for other in taken.values()):
                search(depth + 1, cost + rank, taken | {index: place})
        search(depth + 1, cost + 1000, taken)

    search(0, 0.0, {})
    return best[1]


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
