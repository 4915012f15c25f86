"""Turntables among other track: nothing lies across a pit or its tracks, wherever those come to it."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations
from math import dist
from random import Random

import pytest

from drawing.samples import POWER, facts
from railbond.faces.drawing.course import Course, Point
from railbond.faces.drawing.picture import rooms
from railbond.faces.drawing.pits import PitWork
from railbond.faces.drawing.scale import GAUGE
from railbond.faces.drawing.scene import Scene
from railbond.faces.drawing.staging import stage

BESIDE = (
    POWER
    + """\
turntable TT 40 cm
approach-track TT.in at 0 degrees
approach-track TT.s4 at 180 degrees
approach-track TT.s5 at 190 degrees
segment in stop -> T1.points 1 m
turnout T1 left number 6 isolated-frog
turnout T0 right number 6 isolated-frog
segment in1 T1.through -> T0.points 50 cm
segment in2 T0.through -> TT.in 20 cm
turnout T3 left number 6 isolated-frog
segment s4 TT.s4 -> T3.through 40 cm
segment s4b T3.points -> stop 40 cm
turnout T2 right number 6 isolated-frog
segment s5 TT.s5 -> T2.through 40 cm
segment s5b T2.points -> stop 40 cm
segment over T1.diverging -> T2.diverging 3 m
segment under T0.diverging -> T3.diverging 3 m
"""
)


def random_table(random: Random) -> str:
    """A turntable with up to ten tracks anywhere round it, some with turnouts beyond."""
    step = random.choice([8, 10, 12, 15, 20, 30, 45])
    lines = [POWER + "turntable TT 30 cm"]
    for number, angle in enumerate(random.sample(range(0, 360, step), random.randint(1, 10) % (360 // step) or 1)):
        lines.append(f"approach-track TT.t{number} at {angle} degrees")
        if random.random() < 0.5:
            lines.append(f"segment s{number} TT.t{number} -> stop 1 m")
            continue
        near, far = random.choice([("points", "through"), ("through", "points")])
        lines.append(f"turnout T{number} {random.choice(['left', 'right'])} number 6 isolated-frog")
        lines.append(f"segment s{number} TT.t{number} -> T{number}.{near} 50 cm")
        lines.append(f"segment u{number} T{number}.{far} -> stop 1 m")
        lines.append(f"segment v{number} T{number}.diverging -> stop {random.choice([1, 3])} m")
    return "\n".join(lines)


@pytest.mark.parametrize("text", [BESIDE, *(random_table(Random(seed)) for seed in range(60))])
def test_nothing_lies_across_a_pit_or_its_tracks(text: str) -> None:
    plan = facts(text)
    scene = stage(plan.layout, rooms(plan))
    table = scene.works["TT"]
    assert isinstance(table, PitWork)
    middle, free = table.cell.at, GAUGE / 2 + 3
    for track in _others(scene):
        assert min(dist(point, middle) for point in track) > table.radius + free
    tracks = [_points(table.course(name)) for name in table.cell.ends]
    for track in tracks:
        straight = [point for point in track if dist(point, track[0]) > 14]
        assert min((dist(point, middle) for point in straight), default=999.0) > table.radius + free
    for one, other in combinations(tracks, 2):
        at_edge = dist(one[0], other[0])
        assert min(dist(here, there) for here in one for there in other) > min(GAUGE + 2, at_edge - 2)


def _others(scene: Scene) -> Iterator[list[Point]]:
    for stretch in scene.stretches.values():
        length = stretch.stop - stretch.start
        yield [stretch.course.at(stretch.start + length * step / 80) for step in range(81)]


def _points(course: Course) -> list[Point]:
    return [course.at(course.length * step / 60) for step in range(61)]


@pytest.mark.parametrize(("angle", "opposite"), [(0, 180), (40, 220), (275, 95)])
def test_a_lone_track_comes_straight_to_its_table(angle: int, opposite: int) -> None:
    """At whatever angle the plan counts from; and so does one that leads on across it."""
    one = POWER + f"turntable TT 30 cm\napproach-track TT.a at {angle} degrees\nsegment a stop -> TT.a 1 m\n"
    for text in (one, one + f"approach-track TT.b at {opposite} degrees\nsegment b TT.b -> stop 1 m\n"):
        plan = facts(text)
        table = stage(plan.layout, rooms(plan)).works["TT"]
        assert isinstance(table, PitWork)
        heights = {round(y) for name in table.cell.ends for _, y in _points(table.course(name))}
        assert len(heights) == 1


def test_tables_on_tracks_that_do_not_meet_lie_clear_of_each_other() -> None:
    """A small pit is higher than the lane of its lone track."""
    plan = facts(
        POWER
        + "".join(
            f"turntable {name} 30 cm\napproach-track {name}.a at 0 degrees\nsegment {name}s stop -> {name}.a 1 m\n"
            for name in ("TA", "TB", "TC", "TD")
        )
    )
    works = [one for one in stage(plan.layout, rooms(plan)).works.values() if isinstance(one, PitWork)]
    assert len(works) == 4
    for one, other in combinations(works, 2):
        assert dist(one.cell.at, other.cell.at) > one.radius + other.radius + 10
