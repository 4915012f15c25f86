"""Track that is too long for one line is folded into rows, and nothing of it is lost there."""

from __future__ import annotations

import re
from collections import Counter
from itertools import pairwise
from math import hypot
from random import Random

import pytest

from benchmark.drawings import sidings
from benchmark.railroads import ladders, main_line, yards
from drawing.samples import PLANE, facts
from oracle.plans import big_layout, random_wild
from railbond.faces.drawing.course import Course, Vertex
from railbond.faces.drawing.folding import letters
from railbond.faces.drawing.picture import PictureChoice, draw, rooms
from railbond.faces.drawing.row_ends import LONGEST
from railbond.faces.drawing.scene import Scene
from railbond.faces.drawing.shelves import shelved
from railbond.faces.drawing.staging import ROW, laid, stage

LONG = {
    "sidings": sidings(15), "main line": main_line(30), "big layout": big_layout(200, 4), "yards": yards(160),
    "ladders": ladders(160),
}  # fmt: skip
FLATTEST = 6.0
"""No drawing is to be wider than so many times its height unless its track is a line."""


def staged(text: str) -> Scene:
    plan = facts(text)
    return stage(plan.layout, rooms(plan))


@pytest.mark.parametrize("name", LONG)
def test_no_drawing_is_a_strip(name: str) -> None:
    found = re.search(r' width="(\d+)" height="(\d+)"', draw(facts(LONG[name]), (), None, PictureChoice("", False)))
    assert found and int(found[1]) <= FLATTEST * int(found[2])


@pytest.mark.parametrize("name", LONG)
def test_every_cut_has_two_ends_with_one_letter(name: str) -> None:
    scene = staged(LONG[name])
    ends = Counter(one.name for one in scene.terminals if one.kind == "fold")
    assert ends and set(ends.values()) == {2}
    jumping = {id(one.course) for one in scene.stretches.values() if one.course.jumps}
    assert len(jumping) == len(ends)


@pytest.mark.parametrize("name", LONG)
def test_nothing_is_lost_in_a_fold(name: str) -> None:
    """Every piece is there, and pieces that meet lie together still, whichever row they are in."""
    plan = facts(LONG[name])
    scene = stage(plan.layout, rooms(plan))
    assert {*scene.stretches, *scene.cells} == {*plan.layout.pieces}
    for meeting in plan.layout.meetings:
        one, other = (scene.joints[end] for end in (meeting.one, meeting.other))
        (x, y), (u, v) = one.course.at(one.along), other.course.at(other.along)
        assert hypot(u - x, v - y) < 1


@pytest.mark.parametrize("seed", range(4))
def test_a_railroad_that_no_plane_holds_is_folded_before_it_is_seen_what_crosses(seed: int) -> None:
    """Of 400 turnouts that hang together every which way: rows of at most two and a half times the length, rather
    than one in which everything hops over everything."""
    plan = facts(big_layout(400, seed))
    net, parts = laid(plan.layout, rooms(plan))
    pieces = [sum(net.nodes[node].kind == "piece" for node in part.nodes) for part in parts]
    assert sum(pieces) > 300
    assert max(pieces) <= LONGEST * ROW
    assert sum(node.kind == "bridge" for node in net.nodes) < 300


def test_rows_run_on_from_west_to_east() -> None:
    """The line leaves each row at its east, and comes into the next one, below, at its west."""
    scene = staged(LONG["sidings"])
    marks = {letter: [one for one in scene.terminals if one.name == letter and one.kind == "fold"] for letter in "AB"}
    for leaves, comes in marks.values():
        assert leaves.looks == 1 and comes.looks == -1
        assert comes.at[1] > leaves.at[1] and comes.at[0] < leaves.at[0]


def test_words_tell_row_by_row() -> None:
    """Who does not see the drawing hears of the sidings in the order in which a train meets them."""
    told = re.search(r"<desc>(.*?)</desc>", draw(facts(LONG["sidings"])), re.DOTALL)
    assert told
    names = [line.partition(":")[0] for line in told[1].splitlines()]
    turnouts = [name for name in names if re.fullmatch(r"[AE]\d+", name)]
    assert turnouts == [f"{end}{number}" for number in range(1, 16) for end in "AE"]


@pytest.mark.parametrize("name", PLANE)
def test_short_track_is_not_folded(name: str) -> None:
    assert not [one for one in staged(PLANE[name]).terminals if one.kind == "fold"]


def test_a_line_that_jumps_is_followed_bit_by_bit() -> None:
    one = Course([Vertex((0, 0)), Vertex((100, 0))])
    both = one.joined(Course([Vertex((0, 200)), Vertex((50, 200))]))
    assert both.length == 150 and both.jumps == [100]
    assert both.at(99) == (99, 0) and both.at(101) == (1, 200)
    assert both.path(0, 150) == "M0.0 0.0L100.0 0.0M0.0 200.0L50.0 200.0"
    assert both.path(100, 150) == "M0.0 200.0L50.0 200.0"
    again = both.joined(one)
    assert again.jumps == [100, 150] and again.path(140, 160) == "M40.0 200.0L50.0 200.0M0.0 0.0L10.0 0.0"


def test_letters_go_on_after_z() -> None:
    assert [letters(number) for number in (0, 25, 26, 27, 51, 52)] == ["A", "Z", "AA", "AB", "AZ", "BA"]


@pytest.mark.parametrize("seed", range(20))
def test_parts_never_lie_over_one_another(seed: int) -> None:
    rng = Random(seed)
    sizes = [(rng.randrange(100, 3000), rng.randrange(66, 900)) for _ in range(rng.randrange(1, 12))]
    boxes = [(x, y, x + w, y + h) for (x, y), (w, h) in zip(shelved(sizes, 66), sizes, strict=True)]
    for place, (west, top, east, low) in enumerate(boxes):
        for left, high, right, deep in boxes[:place]:
            assert west >= right or left >= east or top >= deep or high >= low
    assert [one[:2] for one in boxes] == sorted((one[:2] for one in boxes), key=lambda one: (one[1], one[0]))


@pytest.mark.parametrize("seed", range(12))
def test_random_railroads_in_rows_lose_nothing(seed: int) -> None:
    """Several random plans' track on one long line."""
    text = big_layout(20 + seed, seed % 5) if seed % 2 else random_wild(Random(seed), 14)
    plan = facts(text)
    scene = stage(plan.layout, rooms(plan))
    assert {*scene.stretches, *scene.cells} == {*plan.layout.pieces}
    for stretch in scene.stretches.values():
        places = [stretch.start, *(one for one in stretch.course.jumps if stretch.start < one < stretch.stop)]
        assert all(one < other for one, other in pairwise([*places, stretch.stop]))
