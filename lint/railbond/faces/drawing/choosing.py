"""The best places for the labels of one crowd, of which each has several.

What is minimized is the sum of their ranks, after the number of those that have none. Few of the places matter: that
of rank 3 only where all else costs as much. So each label begins with the best one and "somewhere else", which costs
what its next place would cost and hinders nobody. Where a label is better off there, more of its places are looked for;
where none is, the places are the best there are. A large crowd is not searched whole: its labels are placed one by one,
those with the fewest free places first, and one that finds none makes another give way.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from functools import cache
from math import inf

from .free_places import Places, Seeker
from .label_places import LabelPlace
from .lately import Lately

WHOLE = 7
"""Labels of the largest crowd that is searched whole."""
STEPS = 20000
"""Places tried in one crowd until the best so far is taken."""
NONE, ELSEWHERE = 1000.0, 0.01
"""What a label costs that has no place; and one somewhere else beyond the rank of its next place."""
KNOWN: Lately[tuple[tuple[Places, bool], ...], dict[int, LabelPlace]] = Lately(1000, ages=True)
"""What was chosen for a crowd, by the places of each of its labels, and whether these were all."""


def chosen_together(seekers: Sequence[Seeker]) -> dict[int, LabelPlace]:
    """Places for the labels of a crowd, by their numbers; none for those that have to be led out."""
    while len(seekers) <= WHOLE:
        key = tuple((one.found, one.at_end) for one in seekers)
        found = KNOWN.get(key)
        if found is None:
            found = KNOWN.put(key, _whole(key))
        elsewhere = [one for number, one in enumerate(seekers) if number not in found and not one.at_end]
        if not elsewhere:
            return found
        for one in elsewhere:
            one.look_on()
    for one in seekers:
        one.look_to_end()
    return _one_by_one([one.found for one in seekers])


def _whole(crowd: Sequence[tuple[Places, bool]]) -> dict[int, LabelPlace]:
    """The best places of a small crowd; none for labels that are better off elsewhere."""
    order = sorted(range(len(crowd)), key=lambda one: len(crowd[one][0]) if crowd[one][1] else inf)
    places = [crowd[one][0] for one in order]
    without = [NONE if crowd[one][1] else len(crowd[one][0]) + ELSEWHERE for one in order]
    clash = cache(LabelPlace.hinders)
    best: tuple[float, tuple[LabelPlace | None, ...]] = (inf, ())
    steps = 0

    def search(depth: int, cost: float, taken: tuple[LabelPlace | None, ...]) -> None:
        nonlocal best, steps
        steps += 1
        if depth == len(order):
            best = (cost, taken)
            return
        for rank, place in enumerate(places[depth]):
            if cost + rank >= best[0] or steps > STEPS:
                return
            for other in taken:
                if other and clash(place, other):
                    break
            else:
                search(depth + 1, cost + rank, (*taken, place))
        if cost + without[depth] < best[0] and steps <= STEPS:
            search(depth + 1, cost + without[depth], (*taken, None))

    search(0, 0.0, ())
    return {index: place for index, place in zip(order, best[1], strict=True) if place}


def _one_by_one(free: list[Places]) -> dict[int, LabelPlace]:
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

    for index in sorted((one for one in range(len(free)) if free[one]), key=lambda one: len(free[one])):
        clear = next((place for place in free[index] if not hindered(place)), None)
        if clear:
            take(index, clear)
        else:
            any(gives_way(index, place) for place in free[index])
    return taken
