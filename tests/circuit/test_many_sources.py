"""Which setting two lumps of metal meet in, where many sources reach both, is what asking each two of them tells."""

from __future__ import annotations

from itertools import product
from random import Random

import pytest

from railbond.circuit.graph import RailGraph, Setting, SupplyLeg, agree
from railbond.circuit.proof import Proof, Reachable
from railbond.circuit.questions import opposed

SWITCHES = ("T1", "T2", "T3")
POSITIONS = ("through", "diverging")


def sources(dice: Random) -> list[SupplyLeg]:
    found = []
    for number in range(dice.randint(1, 4)):
        kind = dice.choice(("fixed", "fixed", "reverser", "analog", "unit"))
        cab = dice.choice(("east", "west")) if kind == "analog" else ""
        found += [SupplyLeg(f"{kind}{number}", leg, kind, cab) for leg in (0, 1)]
    return found


def ways(known: list[SupplyLeg], dice: Random) -> list[Reachable]:
    found = []
    for _ in range(dice.randint(0, 8)):
        stands = dice.sample(SWITCHES, dice.randint(0, 2))
        found.append(Reachable(dice.choice(known), frozenset((one, dice.choice(POSITIONS)) for one in stands)))
    return found


def plainly(
    one: list[Reachable], other: list[Reachable], needs: tuple[tuple[str, tuple[str, ...]], ...]
) -> Setting | None:
    """The first of the least settings, each two ways asked in their order."""
    least: Setting | None = None
    for a, b in product(one, other):
        for picked in product(*(positions for _, positions in needs)) if a.source.opposes(b.source) else ():
            setting = a.setting | b.setting | frozenset(zip((switch for switch, _ in needs), picked, strict=True))
            if agree(setting) and (least is None or len(setting) < len(least)):
                least = setting
    return least


def test_a_leg_opposes_the_other_leg_of_its_groups() -> None:
    for number in range(200):
        for one, other in product(sources(Random(number)), repeat=2):
            assert one.opposes(other) == (one.leg != other.leg and not {*one.groups}.isdisjoint(other.groups))


@pytest.mark.parametrize("needs", [(), (("T1", ("through",)),), (("T1", POSITIONS), ("T3", ("diverging",)))])
def test_the_least_setting_is_that_of_each_two_sources(needs: tuple[tuple[str, tuple[str, ...]], ...]) -> None:
    met = 0
    for number in range(400):
        dice = Random(number)
        known = sources(dice)
        proof = Proof(RailGraph(["one", "other"], [], [], {}, [], [], {}, {}))
        proof._reachable = {0: ways(known, dice), 1: ways(known, dice)}
        expected = plainly(proof.reachable(0), proof.reachable(1), needs)
        assert opposed(proof, 0, 1, needs) == expected
        met += expected is not None
    assert met > 50
