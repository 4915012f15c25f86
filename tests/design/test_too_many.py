"""A limit of another unit asks for more drops than anybody solders: it is told at once."""

from __future__ import annotations

import pytest

from railbond.circuit.effort import at_most
from railbond.design.drops import TooManyDrops
from railbond.design.wire import wire

LONG = "".join(f"segment s{number} stop -> stop 100 m\n" for number in range(40))
HEAD = "booster B1 15 V 5 A\ndistrict main from B1\n"


@pytest.mark.parametrize("spacing", ["1 mm", "2 mm"])
def test_drops_without_number_are_not_counted(spacing: str) -> None:
    text = f"{HEAD}limit feeder-spacing {spacing}\n{LONG}"
    with at_most(20_000), pytest.raises(TooManyDrops, match=r"more than 2,000 pairs of drops: is the unit right\?"):
        wire("p", lambda path: text)
