"""What is looked at pair by pair, and what is gathered by groups where there are many, are one and the same."""

from __future__ import annotations

from random import Random

from railbond.circuit.across import FEW, _by_groups, _one_by_one
from railbond.circuit.graph import Bond, Literal, RailGraph, Setting, SupplyLeg
from railbond.circuit.proof import Proof, Reachable
from railbond.circuit.questions import touch_may_feed

SOURCES = [
    *(SupplyLeg(name, leg) for name in ("north", "south") for leg in (0, 1)),
    *(SupplyLeg(name, leg, "reverser") for name in ("R1", "R2") for leg in (0, 1)),
    *(SupplyLeg(f"cab {leg}", leg, "analog", "cab") for leg in (0, 1)),
    SupplyLeg("unit", 0, "unit"),
]


def ways(rng: Random) -> list[Reachable]:
    switches: list[Literal] = [(f"T{number}", at) for number in (1, 2) for at in ("through", "diverging")]
    settings: list[Setting] = [frozenset(rng.sample(switches, rng.randint(0, 2))) for _ in range(3)]
    return [Reachable(rng.choice(SOURCES), rng.choice(settings)) for _ in range(rng.randint(0, 4))]


def test_pair_by_pair_and_by_groups_are_one() -> None:
    rng, found, many = Random(1), 0, 0
    for _ in range(2_000):
        here, there = ways(rng), ways(rng)
        for asked in (SupplyLeg.opposes, SupplyLeg.mingles):
            own = list(_one_by_one(here, there, asked))
            assert own == _by_groups(here, there, asked)
            found, many = found + bool(own), many + (len(here) * len(there) > FEW)
    assert found > 1_000 and many > 1_000


def test_a_touch_feeds_only_what_has_no_source_of_its_own() -> None:
    """Conductors 0 and 1 are soldered to two legs, 2 is not; where a touch always holds, it may be what feeds."""
    thrown = ("T1", "through")
    for touch, may in ((Bond(0, 1, thrown, "touch"), False), (Bond(1, 2, thrown, "touch"), True),
                       (Bond(0, 1, None, "touch"), True), (Bond(1, 2, thrown, "contact"), False)):  # fmt: skip
        graph = RailGraph(["a", "b", "c"], [touch], [], dict(enumerate(SOURCES[:2])), [], [0, 1, 2], {}, {})
        assert touch_may_feed(Proof(graph)) == may
