"""Yards and spurs: ladders are slopes, and no track bends back that need not."""

from __future__ import annotations

from itertools import pairwise
from math import atan2, degrees
from random import Random

import pytest

from benchmark.railroads import yards
from drawing.samples import LADDER, POWER, facts
from oracle.plans import random_wild
from railbond.faces.drawing.picture import draw, rooms
from railbond.faces.drawing.scale import LANE
from railbond.faces.drawing.scene import Scene
from railbond.faces.drawing.staging import laid, stage

ANGLE = degrees(atan2(3, 4))


def staged(text: str) -> Scene:
    plan = facts(text)
    return stage(plan.layout, rooms(plan))


def test_a_ladder_is_a_slope_and_its_tracks_are_level_side_by_side() -> None:
    """The straight route of every turnout lies on the slope, and each track one lane below the one before."""
    cells = list(staged(LADDER).cells.values())
    assert len({cell.ends["diverging"][1] for cell in cells}) == len(cells) == 5
    for cell, following in pairwise(cells):
        (x, y), (u, v), (w, z) = cell.ends["points"], cell.at, cell.ends["through"]
        assert degrees(atan2(v - y, u - x)) == pytest.approx(ANGLE) == pytest.approx(degrees(atan2(z - v, w - u)))
        assert cell.ends["diverging"][1] == v and following.at[1] - v == pytest.approx(LANE)


def led_to(turnout: str, leg: str, hand: str) -> str:
    """A yard that turns out of a line, each of whose turnouts has the same hand."""
    line = (
        f"segment line stop -> A.points 1 m\nturnout A {turnout} dead-frog\nsegment lead A.{leg} -> L1.points 30 cm\n"
    )
    other = {"diverging": "through", "left": "right", "right": "left"}[leg]
    return f"{line}segment on A.{other} -> stop 1 m\n" + "".join(
        f"turnout L{n} {hand} dead-frog\nsegment track{n} L{n}.diverging -> stop 2 m\n"
        f"segment rung{n} L{n}.through -> {f'L{n + 1}.points' if n < 4 else 'stop'} 30 cm\n"
        for n in range(1, 5)
    )


LED = [("left", "diverging", "right"), ("right", "diverging", "left"), ("wye", "right", "left")]


@pytest.mark.parametrize("turned", [False, True])
@pytest.mark.parametrize(("turnout", "leg", "hand"), LED)
def test_the_lead_of_a_yard_has_no_kink(turnout: str, leg: str, hand: str, turned: bool) -> None:
    """Where a turnout parts toward a ladder, its leg, the lead and the ladder are one slope, whichever way it looks."""
    text = led_to(turnout, leg, hand)
    if turned:
        text = text.replace("segment line stop -> A.points", "segment line A.points -> stop")
    scene = staged(text)
    stretch = scene.stretches["lead"]
    headings = {
        round(stretch.course.heading(stretch.start + (stretch.stop - stretch.start) * n / 20), 6) for n in range(21)
    }
    assert len(headings) == 1
    assert degrees(abs(headings.pop())) in (pytest.approx(ANGLE), pytest.approx(180 - ANGLE))


FACING = (
    POWER
    + """\
segment w stop -> A.points 1 m
turnout A right dead-frog
segment line A.through -> B.through 1 m
turnout B left dead-frog
segment ahead A.diverging -> stop 60 cm
segment back B.diverging -> stop 60 cm
segment e B.points -> stop 1 m
"""
)


@pytest.mark.parametrize("text", [FACING, *(random_wild(Random(seed), seed % 9) for seed in (41, 76, 106))])
def test_track_bends_back_only_where_the_plan_asks_for_it(text: str) -> None:
    """Two spurs that face each other lie one below the other."""
    plan = facts(text)
    net, parts = laid(plan.layout, rooms(plan))
    for part in parts:
        for dart in part.lanes.of:
            west, east = (part.east[net.at[one]] + part.spots[one].east for one in (dart, dart ^ 1))
            assert west <= east, (net.nodes[net.at[dart]].name, net.nodes[net.at[dart ^ 1]].name)


def test_names_lie_beside_a_slope_and_need_no_line() -> None:
    """The names of a ladder's leads: right at their track, on the side on which there is room."""
    small, large = draw(facts(LADDER)), draw(facts(yards(160)))
    assert small.count('class="name"') == 11 and 'class="name-line"' not in small
    assert 40 * large.count('class="name-line"') < large.count('class="name"')
