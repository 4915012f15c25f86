"""The oracle's own reading of a plan, against drawings."""

from __future__ import annotations

import pytest

from oracle.brute import Brute, groups
from oracle.plan_model import model_of
from oracle.rails import ALWAYS, Model, Source

PIECES = """turnout T1 left dead-frog
turnout T2 right dead-frog
segment west stop -> T1.points 90 cm
segment main T1.through -> J 90 cm
segment more T2.through -> J 90 cm
segment spur stop -> T1.diverging 90 cm
joint T2.points -> stop
joint T2.diverging -> stop
"""


def parted(model: Model) -> set[frozenset[object]]:
    """The meeting rails that a gap parts: passes over a joint between what is not one piece of metal."""
    group = groups(model.conductors, (bond for bond in model.bonds if bond.when == ALWAYS))
    joints = (one for one in model.passes if one.kind == "joint")
    return {frozenset((one.one, one.other)) for one in joints if group[one.one] != group[one.other]}


WEST_LEFT = {("west", "left", 0), ("T1", "diverging stock rail")}
WEST_RIGHT = {("west", "right", 0), ("T1", "through stock rail")}
MAIN_LEFT = {("main", "left", 0), ("T1", "through frog rail")}
MAIN_RIGHT = {("main", "right", 0), ("T1", "through stock rail")}
SPUR_RIGHT = {("spur", "right", 0), ("T1", "diverging stock rail")}
SPUR_LEFT = {("spur", "left", 0), ("T1", "diverging frog rail")}
HEAD_ON_LEFT = {("main", "left", 0), ("more", "right", 0)}
HEAD_ON_RIGHT = {("main", "right", 0), ("more", "left", 0)}


@pytest.mark.parametrize(
    "gap, cut",
    [
        ("T1.points left rail", [WEST_LEFT]),
        ("west.finish right rail", [WEST_RIGHT]),
        ("T1.points both rails", [WEST_LEFT, WEST_RIGHT]),
        ("T1.through frog rail", [MAIN_LEFT]),
        ("main.start frog rail", [MAIN_LEFT]),
        ("T1.through right rail", [MAIN_RIGHT]),
        ("main.start left rail", [MAIN_LEFT]),
        ("T1.diverging left rail", [SPUR_LEFT]),
        ("spur.finish right rail", [SPUR_RIGHT]),
        ("T1.diverging stock rail", [SPUR_RIGHT]),
        ("main.finish left rail", [HEAD_ON_LEFT]),
        ("more.finish left rail", [HEAD_ON_RIGHT]),
        ("J both rails", [HEAD_ON_LEFT, HEAD_ON_RIGHT]),
    ],
)
def test_a_gap_parts_the_rails_that_it_names(gap: str, cut: list[set[object]]) -> None:
    r"""Arrows: west runs into T1, main out of it and more against main; spur runs, backwards, into T1.

                         ____ spur <- seen from T1; its own left is the side of T1's frog
    west -> T1 ________ /
               \__________ main -> J <- more ____ T2
    """
    assert parted(model_of(PIECES + f"gap {gap}")) == {frozenset(one) for one in cut}


def test_at_a_joint_of_two_turnouts_frog_rail_and_stock_rail_say_which() -> None:
    crossover = "turnout T1 left live-frog\nturnout T2 left live-frog\njoint T1.diverging -> T2.diverging\n"
    frog_to_stock = {("T1", "diverging frog rail"), ("T2", "diverging stock rail")}
    assert parted(model_of(crossover + "gap T1.diverging frog rail")) == {frozenset(frog_to_stock)}
    assert parted(model_of(crossover + "gap T2.diverging stock rail")) == {frozenset(frog_to_stock)}


def test_cuts_number_a_rails_stretches_from_the_start() -> None:
    brute = Brute(
        model_of(
            "booster B1 15 V 5 A\ndistrict main from B1\nsegment west stop -> stop 90 cm\n"
            "gap west at 30 cm left rail\ngap west at 60 cm both rails\nfeeder main -> west at 40 cm\n"
        )
    )
    fed = {one: brute.supplies([one]) for one in brute.model.rails if brute.supplies([one])}
    assert fed == {
        ("west", "left", 1): {Source("main", 0, "fixed")},
        ("west", "right", 0): {Source("main", 1, "fixed")},
    }
    assert [(one.one, one.other, one.gapped) for one in brute.model.meetings] == [
        (("west", 0), ("west", 1), False),
        (("west", 1), ("west", 2), True),
    ]


def test_single_drops_reach_the_rails_that_they_name() -> None:
    plan = "booster B1 15 V 5 A\ndistrict d from B1 legs a b\nbus d -> P1\nturnout T1 wye live-frog\n"
    brute = Brute(model_of(plan + "feeder P1.b -> T1.left.stock\nfeeder d.a -> T1.right.frog\n"))
    through_stock, diverging_frog = ("T1", "through stock rail"), ("T1", "diverging frog rail")
    assert brute.supplies([through_stock]) == {Source("d", 1, "fixed"), Source("d", 0, "fixed")}
    assert brute.model.feeds[0].conductor == through_stock and brute.model.feeds[0].source.phase == "-"
    assert brute.model.feeds[1].conductor == diverging_frog and brute.model.feeds[1].source.phase == "+"


def test_a_module_without_a_district_takes_its_power_from_its_plug() -> None:
    plan = "segment west E -> stop 90 cm\nendplate E left black\nbus plug -> P1\nfeeder P1 -> west crossed\n"
    brute = Brute(model_of(plan))
    assert brute.supplies([("west", "right", 0)]) == {Source("plug", 0, "fixed")}
