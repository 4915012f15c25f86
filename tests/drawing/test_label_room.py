"""Whether a label is free of what lies around it, held against one line and one box after the other."""

from __future__ import annotations

from math import hypot
from random import Random

import pytest

from railbond.faces.drawing.bars import AIR
from railbond.faces.drawing.label_room import METAL, LabelRoom
from railbond.faces.drawing.shapes import Box, Line


def a_box(random: Random) -> Box:
    return Box(random.uniform(0, 400), random.uniform(0, 400), random.uniform(8, 90), random.uniform(8, 30))


def a_line(random: Random) -> Line:
    x, y = random.uniform(0, 400), random.uniform(0, 400)
    slope = random.choice([(1, 0), (0, 1), (random.uniform(-1, 1), random.uniform(-1, 1))])
    long = random.uniform(5, 200)
    return Line((x, y), (x + slope[0] * long, y + slope[1] * long), random.choice([0.6, 1.5, 3.7]))


@pytest.mark.parametrize("seed", range(20))
def test_a_label_is_free_where_it_touches_nothing(seed: int) -> None:
    random = Random(seed)
    room, lines, boxes = LabelRoom(), [a_line(random) for _ in range(12)], [a_box(random) for _ in range(8)]
    for line in lines:
        room.draw(line)
    for box in boxes:
        room.take(box)
    wide, tall = a_box(random)[2:]
    labels = [Box(*a_box(random)[:2], wide, tall) for _ in range(300)]
    free = [
        not any(line.meets(label, AIR) for line in lines) and not any(label.meets(box) for box in boxes)
        for label in labels
    ]
    assert [room.is_free(label) for label in labels] == free
    numbered = ((label.x, label.y, number) for number, label in enumerate(labels))
    assert [number for _, _, number in room.free(numbered, (wide, tall))] == [
        number for number, one in enumerate(free) if one
    ]
    assert set(free) == {True, False}


@pytest.mark.parametrize("seed", range(20))
def test_a_wire_is_told_where_it_crosses_metal(seed: int) -> None:
    random = Random(seed)
    room, lines = LabelRoom(), [a_line(random) for _ in range(30)]
    lines = [line for line in lines if min(abs(line.one[0] - line.other[0]), abs(line.one[1] - line.other[1])) < 48]
    for line in lines:
        room.draw(line)
    wire = a_line(random)
    shares = {wire.crossing(line) for line in lines if line.half > METAL}
    assert room.crossed(wire) == shares - {None}


@pytest.mark.parametrize("seed", range(20))
def test_no_label_touches_a_rail_or_lies_between_two(seed: int) -> None:
    random = Random(seed)
    middle, half = a_line(random), 3.7
    (x, y), (u, v) = middle.one, middle.other
    far = hypot(u - x, v - y) / 7
    dx, dy = (v - y) / far, (x - u) / far
    left, right = (((x + way * dx, y + way * dy), (u + way * dx, v + way * dy)) for way in (1, -1))
    room = LabelRoom()
    room.lay(left, right, half)
    answers = set()
    for _ in range(500):
        label = a_box(random)
        free = room.is_free(label)
        if any(Line(*rail, half).meets(label, AIR) for rail in (left, right)):
            assert not free
        if not Line(*middle[:2], half + 7).meets(label, AIR):
            assert free
        answers.add(free)
    assert answers == {True, False}
    wire = Line((x + 9 * dx, y + 9 * dy), (u - 9 * dx, v - 9 * dy), 0.6)
    assert len(room.crossed(wire)) == 2
