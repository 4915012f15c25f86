"""Which of several equals is told is chosen by names: the order of a plan's lines says nothing."""

from __future__ import annotations

from itertools import permutations

import pytest

from railbond.inspection import inspect
from trackplan.gather import gather

SUPPLY = "booster B1 15 V 5 A\ndistrict main from B1 trips 4 A legs red black\n"
EDGES = ["endplate east left black", "endplate west left red", "segment line east -> west 1.9 m"]
RUNS = ["bus main -> P3 12 m 12 AWG", "bus main -> P1 12 m 12 AWG", "bus main -> P2 12 m 12 AWG"]
LOOP = [
    "segment north T1.through -> T2.diverging 1 m",
    "segment south T1.diverging -> T3.through 1 m",
    "segment back T2.through -> T3.diverging 1 m",
]
EQUALS = {
    "endplate-crossed": (EDGES, "feeder main -> line crossed\n", "east"),
    "bus-too-long": (RUNS, "segment line stop -> stop 1 m\nfeeder P1 -> line\n", "P1"),
}


@pytest.mark.parametrize("rule", EQUALS)
def test_of_equals_the_first_by_name_is_told(rule: str) -> None:
    lines, rest, first = EQUALS[rule]
    for order in permutations(lines):
        text = SUPPLY + "\n".join(order) + "\n" + rest
        found = inspect(gather("p", {"p": text}.__getitem__)).findings
        assert [one.names[0] for one in found if one.rule == rule] == [first], order


def test_where_track_turns_and_how_it_is_mended_does_not_hang_on_the_order_of_lines() -> None:
    points = "".join(f"turnout {name} left number 6 dead-frog\n" for name in ("T1", "T2", "T3"))
    told = set()
    for order in permutations(LOOP):
        text = SUPPLY + points + "\n".join(order) + "\nfeeder main -> north\n"
        found = inspect(gather("p", {"p": text}.__getitem__)).findings
        turns = [one for one in found if one.rule == "reversing-without-reverser"]
        told.add(tuple((one.names, one.message, *(fix.words for fix in one.fixes)) for one in turns))
    assert len(told) == 1 and told != {()}
