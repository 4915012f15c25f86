"""Labels in one another's way take the places that are best for all, and only what matters is looked for."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import partial
from itertools import product
from random import Random

import pytest

from benchmark.railroads import yards
from drawing.samples import facts
from railbond.faces.drawing import labels
from railbond.faces.drawing.choosing import NONE, WHOLE, chosen_together
from railbond.faces.drawing.crowds import settled
from railbond.faces.drawing.free_places import Places, Seeker
from railbond.faces.drawing.label_places import Label, LabelPlace, PossiblePlace, choices, unled
from railbond.faces.drawing.label_room import LabelRoom
from railbond.faces.drawing.picture import draw

MOST = 4
Spots = tuple[tuple[float, float], ...]


def label(spots: Spots, asked: list[int] | None = None, number: int = 0) -> Label:
    """A label with its places; each that is asked for is told in `asked`."""

    def each(size: tuple[float, float]) -> Iterator[PossiblePlace]:
        for x, y in spots:
            if asked is not None:
                asked[number] += 1
            yield x, y, unled

    return Label(choices(each, (40.0, 13.0)), str, spots[0], (40.0, 13.0))


def cost(seekers: list[Seeker]) -> tuple[float, int]:
    """What `settled` comes to: its ranks, each label without a place at the price of that; and how many have one."""
    chosen = settled(seekers, chosen_together)
    assert not any(one.hinders(two) for a, one in chosen.items() for b, two in chosen.items() if a < b)
    ranks = sum(seekers[index].found.index(place) for index, place in chosen.items())
    return ranks + NONE * (len(seekers) - len(chosen)), len(chosen)


def least(places: list[Places]) -> float:
    """The same of the best of all ways to place them, tried one after the other."""
    best = NONE * len(places)
    for ranks in product(*(range(-1, len(own)) for own in places)):
        price = sum(NONE if rank < 0 else rank for rank in ranks)
        if price < best:
            taken = [own[rank] for own, rank in zip(places, ranks, strict=True) if rank >= 0]
            if not any(one.hinders(two) for n, one in enumerate(taken) for two in taken[:n]):
                best = price
    return best


@pytest.mark.parametrize("seed", range(30))
def test_no_other_places_are_better_for_all(seed: int) -> None:
    random = Random(seed)
    wide = 90 if seed % 2 else 200  # shut in, or so loose that crowds meet only as they are settled
    spot = partial(random.uniform, 0, wide)
    own = [label(tuple((spot(), spot() / 3) for _ in range(random.randint(1, MOST)))) for _ in range(5)]
    room = LabelRoom(marked=bool(seed % 3))
    found, placed = cost([Seeker(one, room, MOST) for one in own])
    seekers = [Seeker(one, room, MOST) for one in own]
    for one in seekers:
        one.look_to_end()
    assert found == least([one.found for one in seekers])
    assert placed


def test_no_more_places_are_looked_for_than_can_matter() -> None:
    asked = [0, 0, 0]
    rows: list[Spots] = [tuple((x, 60.0 * n) for n in range(MOST)) for x in (0.0, 10.0, 500.0)]
    room = LabelRoom(marked=False)
    seekers = [Seeker(label(spots, asked, number), room, MOST) for number, spots in enumerate(rows)]
    assert cost(seekers)[0] == 1
    assert sorted(asked[:2]) == [1, 2]
    assert asked[2] == 1


def test_a_long_row_of_crowds_is_not_settled_again_and_again(monkeypatch: pytest.MonkeyPatch) -> None:
    sizes: list[int] = []

    def settle(crowd: Sequence[Seeker]) -> dict[int, LabelPlace]:
        sizes.append(len(crowd))
        return chosen_together(crowd)

    monkeypatch.setattr(labels, "chosen_together", settle)
    draw(facts(yards(120)))
    assert max(sizes) > 8 * WHOLE  # so many that to settle them anew with each crowd that joins would show
    assert sum(sizes) < 6 * max(sizes)
