"""Drops, runs, bonds and boosters: as few as do, each where it does most."""

from __future__ import annotations

from random import Random

import pytest

from design.tracks import random_track
from railbond.circuit.facts import Facts
from railbond.design.bill import cost
from railbond.design.wire import WiredPlan, wire
from railbond.design.wishes import costs_of
from railbond.inspection import inspect
from trackplan.gather import gather
from trackplan.read import read
from trackplan.span import Source


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


MAIN = "".join(
    f"segment s{n} {f'j{n}' if n else 'stop'} -> {f'j{n + 1}' if n < 75 else 'stop'} 5 m\n" for n in range(76)
)


@pytest.mark.parametrize(("limit", "boosters", "size"), [("", 1, "12 AWG"), ("limit copper-cost 5\n", 2, "14 AWG")])
def test_thicker_wire_is_chosen_where_its_copper_costs_less_than_a_booster(
    limit: str, boosters: int, size: str
) -> None:
    plan = wired(f"scale HO\nbooster B1 15 V 5 A\n{limit}{MAIN}")
    assert 1 + [one.kind for one in plan.lines].count("booster") == boosters
    assert not plan.left and all(size in one.text for one in plan.lines if one.kind == "bus")


def test_copper_is_paid_by_the_meter_and_by_how_thick_it_is() -> None:
    """Cross-sections by ASTM B258: 10 AWG has 5.26 mm2, 14 AWG 2.08 mm2."""
    sources = [Source("plan", f"bus main -> P1 3 m {size}\n") for size in ("14 AWG", "10 AWG")]
    costs = costs_of(Facts(read(sources[0]).statements, {"plan": sources[0]}).layout)
    thin, thick = (cost(read(source).statements, costs) for source in sources)
    assert thin == pytest.approx(3 * costs.bus)
    assert thick - thin == pytest.approx(3 * costs.copper * (5.26 - 2.5), rel=1e-2)


def test_a_bond_without_which_every_rail_has_power_is_not_asked_for() -> None:
    text = random_track(Random(1000), "module")
    assert all(one.kind != "bond" or one.about != "T1" for one in wired(text).lines)
