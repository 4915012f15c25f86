"""Places labels and marks all together, so that none lies over text, a rail or another mark.

Every label brings its places, the best first. What is minimized is the sum of their ranks. Labels that can get in one
another's way make a group; a small group is searched whole, so that its places are the best there are. In a larger one
labels are placed one by one, those with the fewest free places first, and one that finds none makes another give way.
A label that finds no place at all is led out of the crowd by a line.
"""

from __future__ import annotations

from collections import defaultdict

from .crowds import FEW, MANY, MOST, Places, Seeker, crowded, groups
from .label_places import Label, LabelPlace
from .label_room import LabelRoom
from .lately import Lately, next_picture
from .led_out import led_out

WHOLE = 7
"""Labels of the largest group that is searched whole."""
STEPS = 20000
"""Places tried in one group until the best so far is taken."""
KNOWN: Lately[tuple[Places, ...], dict[int, LabelPlace]] = Lately(1000, ages=True)
"""What was chosen for a group, by the places that were free for each of its labels."""


PLACED: Lately[tuple[object, ...], tuple[dict[int, LabelPlace], LabelRoom]] = Lately(4)
"""Where all labels of a picture were placed, and all that lay on the paper then, by all that they can be placed at and
what lay there before."""


def placed(labels: list[Label], room: LabelRoom) -> list[str]:
    """The labels drawn, in their order; what they take up is taken in `room`."""
    if not room.marked:
        chosen = _placed(labels, room)
        return [label.drawn(chosen[index]) for index, label in enumerate(labels)]
    key = room.whole, *((label.places, label.at, label.size) for label in labels)
    known = PLACED.get(key)
    if known is None:
        chosen = _placed(labels, room)
        PLACED.put(key, (chosen, room.copy()))
    else:
        chosen = known[0]
        room.become(known[1])
    return [label.drawn(chosen[index]) for index, label in enumerate(labels)]


def _placed(labels: list[Label], room: LabelRoom) -> dict[int, LabelPlace]:
    """The place of each label by its number, in the order in which they are taken up."""
    next_picture()
    most = MOST if len(labels) < MANY else FEW
    seekers = [Seeker(label, room, most) for label in labels]
    crowd = crowded(seekers)
    free = [seeker.found for seeker in seekers]
    chosen = {index: places[0] for index, places in enumerate(free) if places and index not in crowd}
    for group in groups(free, crowd):
        chosen |= _together([free[index] for index in group], group)
    for place in chosen.values():
        _take(place, room)
    for index, label in enumerate(labels):
        if index not in chosen:
            chosen[index] = led_out(label, room)
            _take(chosen[index], room)
    return chosen


def _take(place: LabelPlace, room: LabelRoom) -> None:
    room.take(place.box)
    for line in place.lines:
        room.draw(line)


def _together(free: list[Places], group: list[int]) -> dict[int, LabelPlace]:
    """The places that are taken in a group, of those that are free for each of its labels."""
    known = KNOWN.get(tuple(free))
    if known is None:
        order = list(range(len(free)))
        known = KNOWN.put(tuple(free), _whole(order, free) if len(free) <= WHOLE else _one_by_one(order, free))
    return {group[number]: place for number, place in known.items()}


def _whole(group: list[int], free: list[Places]) -> dict[int, LabelPlace]:
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


def _clashes(order: list[int], free: list[Places]) -> list[list[tuple[int, int]]]:
    """For each place of each label a bit of its own, and the bits of those places of earlier labels that it hinders."""
    numbered: list[tuple[int, LabelPlace]] = []
    found = []
    for index in order:
        first = len(numbered)
        own = [(1 << (first + rank), place) for rank, place in enumerate(free[index])]
        found.append([(bit, sum(other for other, there in numbered if place.hinders(there))) for bit, place in own])
        numbered += own
    return found


def _one_by_one(group: list[int], free: list[Places]) -> dict[int, LabelPlace]:
    taken: dict[int, LabelPlace] = {}
    near: defaultdict[tuple[int, int], set[int]] = defaultdict(set)

    def hindered(place: LabelPlace) -> set[int]:
        there = {index for square in place.squares for index in near[square]}
        return {index for index in there if taken[index].hinders(place)}

    def take(index: int, place: LabelPlace | None) -> None:
        if index in taken:
            for square in taken.pop(index).squares:
                near[square].discard(index)
        if place:
            taken[index] = place
            for square in place.squares:
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
