"""Which of several equals is told is chosen by names: the order of a plan's lines says nothing."""

from __future__ import annotations

from itertools import permutations

import pytest

from railbond.inspection import inspect
from trackplan.gather import gather

SUPPLY = "booster B1 15 V 5 A\ndistrict main from B1 trips 4 A legs red black\n"
EDGES = ["endplate east left black", "endplate west left red", "segment line east -> west 1.9 m"]
RUNS = ["bus main -> P3 12 m 12 AWG", "bus main -> P1 12 m 12 AWG", "bus main -> P2 12 m 12 AWG"]
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
