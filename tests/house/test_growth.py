"""Work grows with the railroad, and not with its square: counted in lines of Python that run, so that no busy machine
has a say. `tests/benchmark/exponents.py` measures the same in seconds, on larger railroads."""

from __future__ import annotations

import re
from collections.abc import Callable
from itertools import pairwise
from math import log2

import pytest

from benchmark.exponents import HARD, ROOMS, Growth
from benchmark.railroads import KINDS, ladders
from benchmark.steps import steps

SIZES = (80, 160, 320)
"""Turnouts: whole districts, and enough of them that each is the lesser part of the plan."""
SMALLER = {"meter": (20, 40, 80), "drawing": (40, 80, 160)}
MOST = {"drawing": 1.4}
"""How labels crowd and lanes are shared is another thing on each sheet."""
BY_SECONDS = {"cut into words", "mends"}
"""One runs no Python; what the other takes hangs on the faults, and has a budget."""


def many_wires(turnouts: int) -> str:
    """Ladders with a bus run of its own to each track."""
    drop = re.compile(r"^feeder P(\d+) -> (\w+)", re.MULTILINE)
    return drop.sub(r"bus d\1 -> own\2 1 m 14 AWG\nfeeder own\2 -> \2", ladders(turnouts))


RAILROADS: dict[str, Callable[[int], str]] = {
    **{name: make for name, make in KINDS.items() if name not in HARD},
    "many wires": many_wires,
}


@pytest.mark.parametrize("kind", RAILROADS)
@pytest.mark.parametrize("room", [name for name in ROOMS if name not in BY_SECONDS])
def test_no_room_takes_more_than_the_railroad_grows(room: str, kind: str) -> None:
    sizes = SMALLER.get(room, SIZES)
    told = growth(ROOMS[room], RAILROADS[kind], sizes)
    assert told <= MOST.get(room, 1.15), f"{room} of {kind}: exponent {told:.2f} over {sizes} turnouts"


def test_a_loop_in_a_loop_is_told() -> None:
    """The guard itself: work that looks at every line for every line."""
    every = Growth(str.splitlines, lambda lines: [one for one in lines if any(one == other for other in lines)], (), ())
    assert growth(every, ladders, SIZES) > 1.8


def growth(room: Growth, make: Callable[[int], str], sizes: tuple[int, ...]) -> float:
    """The exponent between what one doubling of the railroad brings and what the next does: what is done once, however
    large the plan, has no say. The largest goes first, so that what is worked out once for all plans is known."""
    room.taken(make(sizes[-1]))
    taken = [room.taken(make(size), steps) for size in sizes]
    first, second = (after - before for before, after in pairwise(taken))
    return log2(second / first)
