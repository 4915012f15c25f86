"""Drops, runs, bonds and boosters: as few as do, each where it does most."""

from __future__ import annotations

from random import Random

import pytest

from design.tracks import random_track
from railbond.design.wire import WiredPlan, wire
from railbond.inspection import inspect
from trackplan.gather import gather


def wired(text: str) -> WiredPlan:
    return wire("plan", {"plan": text}.__getitem__)


@pytest.mark.parametrize(("kind", "seed"), [("yard", 1002), ("yard", 1007), ("throat", 1008), ("terminal", 1010)])
def test_every_drop_is_placed_by_the_spacing_and_none_is_an_afterthought(kind: str, seed: int) -> None:
    """A drop just before a turnout does not reach as far into the track behind it as one in that track."""
    plan = wired(random_track(Random(seed), kind))
    found = inspect(gather("plan", {"plan": plan.text}.__getitem__)).findings
    assert "feeders-too-far-apart" not in [one.rule for one in found]
    assert all(
        one.why.startswith(("else a rail of", "no other pair"))
        for one in plan.lines
        if one.kind == "feeder" and ".bridge" not in one.text
    )


LONG = "".join(
    f"segment s{n} {f'j{n}' if n else 'stop'} -> {f'j{n + 1}' if n < 39 else 'stop'} 60 m\n" for n in range(40)
)


def test_track_too_long_for_one_booster_gets_more() -> None:
    """Each with a district of its own; and no judgment, such as that a long bus is twisted, is made for the owner."""
    plan = wired(f'plan "Long"\nscale HO\nlimit feeder-spacing 10 m\n{LONG}')
    kinds = [one.kind for one in plan.lines]
    assert not plan.left and 1 < kinds.count("booster") == kinds.count("district")
    assert "accept" not in kinds


def test_a_bond_without_which_every_rail_has_power_is_not_asked_for() -> None:
    text = random_track(Random(1000), "module")
    assert all(one.kind != "bond" or one.about != "T1" for one in wired(text).lines)
