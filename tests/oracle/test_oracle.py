"""The oracle's two halves must agree: settings walked one by one, and z3 asked for one.

Where z3 names a setting, the walk of that setting must show the very thing.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import TypeVar

from hypothesis import given

from oracle.brute import Brute, Walk, missed
from oracle.plan_model import model_of
from oracle.plans import wild_plans
from oracle.rails import Feed, Model, Pass, Setting, Source, holds
from oracle.reversing import left_over, reverses_by_color, reverses_by_cycles
from oracle.solver import Solver

Thing = TypeVar("Thing")


def shown(things: Iterable[Thing], ask: Callable[[Thing], Setting | None]) -> dict[Thing, Setting]:
    """The things for which z3 finds a setting, with the setting."""
    return {one: found for one in things if (found := ask(one)) is not None}


def agree_on_shorts(model: Model, brute: Brute, solver: Solver) -> None:
    legs = shown(model.conductors, solver.legs_joined)
    assert set(legs) == brute.ever_legs_joined
    assert all(one in brute.legs_joined(setting) for one, setting in legs.items())
    districts = shown(model.conductors, solver.districts_joined)
    assert set(districts) == brute.ever_districts_joined
    assert all(one in brute.districts_joined(setting) for one, setting in districts.items())


def agree_on_power(model: Model, brute: Brute, solver: Solver) -> None:
    rails = set(model.rails) - brute.lone_frog_metal
    fed = shown(model.conductors, solver.fed)
    untouched = shown(model.conductors, lambda one: solver.fed(one, touches=False))
    assert rails - fed.keys() == brute.never_fed
    assert (rails & fed.keys()) - untouched.keys() == brute.fed_through_points
    assert set(model.frogs) & brute.lone_frog_metal - fed.keys() == brute.unfed_frogs
    assert all(Walk(model, setting).potential(one) for one, setting in fed.items())


def agree_on_volts(model: Model, brute: Brute, solver: Solver) -> None:
    fed = (pair for pair in model.pairs if all(solver.fed(rail) is not None for rail in pair))
    assert {pair for pair in fed if solver.volts(*pair) is None} == brute.without_volts


def agree_on_wheels(model: Model, brute: Brute, solver: Solver) -> None:
    rolled = shown(model.passes, solver.opposed)
    assert {(one.one, one.other) for one in rolled} == brute.opposed_passes()
    for one, setting in rolled.items():
        assert holds(one.when, setting) and Walk(model, setting).opposed(one.one, one.other)
    against = shown(model.passes, solver.set_against)
    assert {(one.one, one.other) for one in against} == brute.set_against
    assert all(missed(one, setting) == 1 for one, setting in against.items())
    blades = shown(model.blades, solver.open_point)
    assert {(one.closure, one.stock) for one in blades} == brute.open_points


@given(wild_plans(max_turnouts=6))
def test_walking_every_setting_and_z3_agree(plan: str) -> None:
    model = model_of(plan)
    brute, solver = Brute(model), Solver(model)
    agree_on_shorts(model, brute, solver)
    agree_on_power(model, brute, solver)
    agree_on_volts(model, brute, solver)
    agree_on_wheels(model, brute, solver)


@given(wild_plans(max_turnouts=6))
def test_cycles_and_colors_agree_on_reversing(plan: str) -> None:
    """With the reversers' gaps taken away, and with all of the track."""
    brute = Brute(model_of(plan))
    for meetings in (left_over(brute), list(brute.model.meetings)):
        assert reverses_by_cycles(meetings) == reverses_by_color(meetings)


def test_a_pass_with_both_turnouts_against_it_is_not_told_as_one_against() -> None:
    """Two rails, each with power only while its own turnout stands against the pass."""
    one, other = ("T1", "frog"), ("T2", "frog")
    model = Model(
        turnouts=("T1", "T2"),
        rails=(one, other),
        frogs=(),
        bonds=(),
        feeds=tuple(
            Feed(rail, Source("main", leg, "fixed"), frozenset({(rail[0], "through")}))
            for leg, rail in enumerate((one, other))
        ),
        passes=(Pass(one, other, frozenset({("T1", "diverging"), ("T2", "diverging")}), "joint"),),
        blades=(),
        meetings=(),
    )
    assert Brute(model).walks[0].opposed(one, other)
    assert not Brute(model).set_against and not Solver(model).set_against(model.passes[0])
