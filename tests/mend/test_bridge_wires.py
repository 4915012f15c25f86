"""A turntable's bridge that has lost its wire gets it back from the reverser that was bought for it, else from the
track around, through a split ring."""

from __future__ import annotations

import pytest

from mend.holding import Plans
from trackplan.edit import apply
from trackplan.span import Source

PIT = """\
booster  B1  15 V  5 A
district main  from B1  trips 4 A
{reverser}turntable PIT  25 cm
approach-track PIT.lead  at 0 degrees
approach-track PIT.s1    at 40 degrees
segment  lead   stop -> PIT.lead  1.2 m
segment  s1     PIT.s1 -> stop    30 cm
feeder   main -> lead
feeder   main -> s1
"""


@pytest.mark.parametrize(
    ("reverser", "from_", "split"), [("reverser RP  in main  trips 2 A\n", "RP", False), ("", "main", True)]
)
def test_the_bridge_gets_its_wire(reverser: str, from_: str, split: bool) -> None:
    plan = PIT.format(reverser=reverser)
    (dead,) = [one for one in Plans(plan).proven().findings if one.rule == "unfed-rail"]
    mended = apply(Source("plan.trackplan", plan), dead.fixes[0].edits)
    (line,) = [line for line in mended.splitlines() if "PIT.bridge" in line]
    assert line.split()[1] == from_ and ("split" in line) == split
    assert not [one for one in Plans(mended).inspected().findings if one.level != "note"]
