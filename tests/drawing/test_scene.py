"""Where track lies: straight where it is straight, at one angle where it parts, and never across other track."""

from __future__ import annotations

import os
from math import atan2, degrees
from random import Random

import pytest

from drawing.lines import crossings
from drawing.samples import BALLOON, CROSSOVER, LEFT, OVER, PLANE, POWER, RING, SIDING, WYE, facts
from oracle.plans import big_layout, big_yard, random_wild
from railbond.faces.drawing.course import Bend
from railbond.faces.drawing.picture import rooms
from railbond.faces.drawing.scale import GAUGE, LANE
from railbond.faces.drawing.scene import Scene
from railbond.faces.drawing.staging import prepared, stage
from railbond.layout.model import EndAt
from trackwork.mixed import random_mixed

THOROUGH = os.environ.get("HYPOTHESIS_PROFILE") == "thorough"
"""Whether the thorough profile is run, by hand."""
ANGLE = degrees(atan2(3, 4))


def staged(text: str) -> Scene:
    plan = facts(text)
    return stage(plan.layout, rooms(plan))


def crossed(text: str) -> list[tuple[str, str]]:
    return crossings(staged(text), facts(text).layout)


@pytest.mark.parametrize("name", PLANE)
def test_track_that_lies_on_a_plane_crosses_nothing(name: str) -> None:
    assert crossed(PLANE[name]) == []


def test_tracks_that_change_places_cross_once() -> None:
    """The hands of the two turnouts of a circle put the tracks between them in opposite order: one must go over
    another."""
    assert len(crossed(OVER)) == len(staged(OVER).bridges) == 1


@pytest.mark.parametrize("seed", range(60))
def test_random_track_crosses_only_where_a_bridge_is(seed: int) -> None:
    text = random_wild(Random(seed), seed % 9)
    bridges = sum(node.kind == "bridge" for node in prepared(facts(text).layout).nodes)
    assert len(crossed(text)) <= bridges


def test_every_piece_is_in_the_picture() -> None:
    for text in (*PLANE.values(), big_layout(40, 2), big_yard(20)):
        plan = facts(text)
        scene = stage(plan.layout, rooms(plan))
        assert {*scene.stretches, *scene.cells} == {*plan.layout.pieces}


@pytest.mark.parametrize("text", [LEFT, SIDING, CROSSOVER, big_yard(20)])
def test_the_straight_route_is_level(text: str) -> None:
    for cell in staged(text).cells.values():
        assert cell.ends["points"][1] == cell.at[1] == cell.ends["through"][1]


@pytest.mark.parametrize("text", [LEFT, SIDING, CROSSOVER, BALLOON, big_yard(20)])
def test_every_turnout_parts_at_one_angle(text: str) -> None:
    for cell in staged(text).cells.values():
        (x, y), (u, v) = cell.at, cell.ends["diverging"]
        assert degrees(atan2(abs(v - y), abs(u - x))) == pytest.approx(ANGLE)


def test_a_left_hand_turnout_parts_to_the_left() -> None:
    """Looking east, left is up; a right-hand one is its mirror image."""
    left, right = staged(LEFT).cells["T1"], staged(LEFT.replace("T1 left", "T1 right")).cells["T1"]
    assert left.ends["diverging"][1] < left.at[1]
    assert right.ends["diverging"][1] > right.at[1]


def test_the_first_piece_runs_as_its_arrow_says() -> None:
    scene = staged(LEFT)
    start, finish = (scene.joints[EndAt("west", "start")], scene.joints[EndAt("west", "finish")])
    assert start.course.at(start.along)[0] < finish.course.at(finish.along)[0]


def test_a_loop_comes_back_to_where_it_began() -> None:
    """The balloon's far side lies east of its turnout, and its two ends one above the other."""
    scene = staged(BALLOON)
    loop = scene.stretches["loop"]
    assert loop.course.at((loop.start + loop.stop) / 2)[0] > scene.cells["T1"].ends["through"][0] + 30


def test_a_ring_is_drawn_closed() -> None:
    scene = staged(RING)
    one, other = scene.stretches["a"], scene.stretches["b"]
    assert one.course.at(0) == pytest.approx(other.course.at(other.course.length))


def test_a_wye_is_a_triangle() -> None:
    """Its apex lies between the two other turnouts and above them, its points upright."""
    cells = staged(WYE).cells
    a, b, c = (cells[name].at for name in "ABC")
    assert a[0] < c[0] < b[0]
    assert a[1] == b[1] > c[1]
    assert cells["C"].upright


def test_a_crossover_is_one_straight_line() -> None:
    cells = staged(CROSSOVER).cells
    (x, y), (u, v) = cells["T2"].at, cells["T1"].at
    assert degrees(atan2(y - v, u - x)) == pytest.approx(ANGLE)


def test_a_large_layout_crosses_only_at_bridges() -> None:
    text = big_layout(60, 4)
    bridges = sum(node.kind == "bridge" for node in prepared(facts(text).layout).nodes)
    assert len(crossed(text)) <= bridges


PIT = (
    POWER
    + """\
turntable TT 30 cm
segment lead stop -> TT.lead 1 m
segment one TT.one -> stop 50 cm
segment two TT.two -> stop 50 cm
segment three TT.three -> stop 50 cm
approach-track TT.lead at 180 degrees
approach-track TT.one at 330 degrees
approach-track TT.two at 0 degrees
approach-track TT.three at 30 degrees
"""
)
SPECIAL = (
    POWER
    + """\
crossing X1 30 degrees dead-frog
segment a stop -> X1.a1 50 cm
segment b stop -> X1.b1 50 cm
segment c X1.a2 -> W1.points 50 cm
segment d X1.b2 -> stop 50 cm
three-way W1 symmetrical dead-frog
segment e W1.left -> stop 50 cm
segment f W1.through -> stop 50 cm
segment g W1.right -> stop 50 cm
"""
)


def test_a_turntable_has_each_track_at_a_height_of_its_own() -> None:
    ends = staged(PIT).cells["TT"].ends
    assert ends["lead"][0] < ends["one"][0] == ends["two"][0] == ends["three"][0]
    assert ends["three"][1] < ends["two"][1] < ends["one"][1], "angles count upwards"
    assert crossed(PIT) == []


def test_crossings_and_three_way_turnouts_keep_their_order() -> None:
    """A crossing's track b comes in to the left of its track a and leaves to the right of it."""
    cells = staged(SPECIAL).cells
    x, w = cells["X1"].ends, cells["W1"].ends
    assert x["a1"][1] == x["a2"][1] and x["b1"][1] < x["a1"][1] < x["b2"][1]
    assert w["left"][1] < w["through"][1] == w["points"][1] < w["right"][1]
    assert crossed(SPECIAL) == []


def test_spurs_of_one_line_share_a_lane() -> None:
    """Twelve spurs of 1 m one after another take two lanes, not thirteen, as each ends before the next one begins."""
    line = "".join(
        f"segment m{n} {f'T{n - 1}.through' if n else 'stop'} -> T{n}.points 2 m\nturnout T{n} left live-frog\n"
        f"segment spur{n} T{n}.diverging -> stop 1 m\n"
        for n in range(12)
    )
    scene = staged(line + "segment last T11.through -> stop 1 m\n")
    assert scene.height == 2 * LANE
    assert max(stretch.stop - stretch.start for name, stretch in scene.stretches.items() if "spur" in name) < 250


@pytest.mark.parametrize("hand", ["left", "right"])
@pytest.mark.parametrize("end", ["points", "through", "diverging"])
def test_scissors_lie_two_lanes_apart_beside_any_turnout(hand: str, end: str) -> None:
    others = [one for one in ("points", "through", "diverging") if one != end]
    text = (
        "scissors S number 6 live-frog\n"
        f"turnout T {hand} live-frog\nsegment t T.{end} -> S.b1 60 cm\n"
        f"segment u T.{others[0]} -> stop 60 cm\nsegment v T.{others[1]} -> S.a1 60 cm\n"
        "segment w S.b2 -> stop 60 cm\nsegment x S.a2 -> stop 60 cm\n"
    )
    scene = staged(text)
    heights = {part: scene.cells[f"S-{part}"].at[1] for part in ("a1", "a2", "b1", "b2", "x")}
    assert heights["a1"] == heights["a2"] and heights["b1"] == heights["b2"]
    assert abs(heights["a1"] - heights["b1"]) >= 2 * LANE
    assert heights["x"] == (heights["a1"] + heights["b1"]) / 2


@pytest.mark.parametrize("seed", range(1000 if THOROUGH else 60))
def test_any_plan_that_reads_is_drawn(seed: int) -> None:
    """Plans of all kinds of trackwork at random, five to a seed."""
    for one in range(5 * seed, 5 * seed + 5):
        plan = facts(random_mixed(Random(one), 1024) if one % 3 else random_wild(Random(one), one % 14))
        scene = stage(plan.layout, rooms(plan))
        assert {*scene.stretches, *scene.cells} == {*plan.layout.pieces}


def test_a_bend_is_wider_than_its_inner_rail() -> None:
    """However short the level track beside a slope: else the inner rail turns back on itself at the bend."""
    short = (
        POWER + "turnout T1 left number 6 isolated-frog\ncrossing X 30 degrees dead-frog\njoint T1.diverging -> X.a1\n"
    )
    bends = [part for one in staged(short).joints.values() for part in one.course.parts if isinstance(part, Bend)]
    assert bends and min(abs(one.radius) for one in bends) > GAUGE / 2 + 3
