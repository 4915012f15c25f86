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
from math import inf

from .free_places import Places, Seeker
from .label_places import LabelPlace
from .lately import Lately

WHOLE = 7
"""Labels of the largest crowd that is searched whole."""
STEPS = 20000
"""Places tried in one crowd until the best so far is taken."""
RANK, ELSEWHERE, NONE = 100, 1, 100_000
"""What a label costs for each place that it likes better than its own, what somewhere else costs beyond its next place,
and what it costs to have none."""
KNOWN: Lately[tuple[tuple[Places, bool], ...], dict[int, LabelPlace]] = Lately(1000, ages=True)
"""What was chosen for a crowd, by the places of each of its labels, and whether these were all."""


def chosen_together(seekers: Sequence[Seeker]) -> dict[int, LabelPlace]:
    """Places for the labels of a crowd, by their numbers; none for those that have to be led out."""
    clashes = _Clashes(len(seekers))
    while len(seekers) <= WHOLE:
        key = tuple((one.found, one.at_end) for one in seekers)
        found = KNOWN.get(key)
        if found is None:
            found = KNOWN.put(key, _whole(key, clashes))
        elsewhere = [one for number, one in enumerate(seekers) if number not in found and not one.at_end]
        if not elsewhere:
            return found
        for one in elsewhere:
            one.look_on()
    for one in seekers:
        one.look_to_end()
    return _one_by_one([one.found for one in seekers])


class _Clashes:
    """Which places of a crowd are in the way of which of its other labels' places. Places are numbered as they are
    found, and `bars` tells of each the numbers that it bars, as the bits of one number."""

    def __init__(self, count: int) -> None:
        self.bars: list[int] = []
        self.numbers: list[list[int]] = [[] for _ in range(count)]
        self._places: list[tuple[int, LabelPlace]] = []

    def take(self, label: int, found: Places) -> None:
        """Takes up those places of a label that are new."""
        own = self.numbers[label]
        for place in found[len(own) :]:
            number, barred = len(self.bars), 0
            for other, (its, there) in enumerate(self._places):
                if its != label and place.hinders(there):
                    barred |= 1 << other
                    self.bars[other] |= 1 << number
            self.bars.append(barred)
            self._places.append((label, place))
            own.append(number)


def _whole(crowd: Sequence[tuple[Places, bool]], clashes: _Clashes) -> dict[int, LabelPlace]:
    """The best places of a small crowd; none for labels that are better off elsewhere."""
    for index, (found, _) in enumerate(crowd):
        clashes.take(index, found)
    order = sorted(range(len(crowd)), key=lambda one: len(crowd[one][0]) if crowd[one][1] else inf)
    numbers, bars = [clashes.numbers[one] for one in order], clashes.bars
    without = [NONE if crowd[one][1] else len(crowd[one][0]) * RANK + ELSEWHERE for one in order]
    firsts = [1 << own[0] if own else 0 for own in numbers]
    coming = [sum(firsts[depth:]) for depth in range(1, len(order) + 1)]
    best: tuple[float, tuple[int | None, ...]] = (inf, ())
    steps = 0

    def search(depth: int, cost: int, barred: int, taken: tuple[int | None, ...]) -> None:
        """Each label to come whose first place is barred costs a rank or more: what cannot be best is not tried."""
        nonlocal best, steps
        steps += 1
        if depth == len(order):
            best = (cost, taken)
            return
        after = coming[depth]
        for rank, number in enumerate(numbers[depth]):
            price = cost + RANK * rank
            if price >= best[0] or steps > STEPS:
                return
            more = barred | bars[number]
            if not barred >> number & 1 and price + RANK * (more & after).bit_count() < best[0]:
                search(depth + 1, price, more, (*taken, rank))
        price = cost + without[depth]
        if price + RANK * (barred & after).bit_count() < best[0] and steps <= STEPS:
            search(depth + 1, price, barred, (*taken, None))

    search(0, 0, 0, ())
    chosen = zip(order, best[1], strict=True)
    return {index: crowd[index][0][rank] for index, rank in chosen if rank is not None}


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
