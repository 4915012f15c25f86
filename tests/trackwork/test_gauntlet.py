"""A gauntlet track and its frogs, walked from the drawing in its docstring."""

from __future__ import annotations

import pytest

from railbond.circuit.running import measure
from railbond.circuit.running.walking import WalkedTrack

from .walking import around, facts_of, found_in, legs, walk

ENDS = ("G.a1", "G.b1"), ("G.a2", "G.b2")
LINE = "gauntlet G 60 cm number 6 {}-frog\n"
CROSSING = "near {0} rail, frog 1, middle {0} rail, frog 2, far {0} rail"
WALKS = {
    "a": (CROSSING.format("a left"), "a right rail"),
    "b": ("b left rail", CROSSING.format("b right")),
}
# T's through route leads onto track a, its diverging one onto track b, which lies to the left.
JUNCTION = """\
booster B1 15 V 5 A
district main from B1
turnout T left isolated-frog
frog T switched from stock rails
gauntlet G 60 cm isolated-frog
segment lead stop -> T.points 1 m
segment ta T.through -> G.a1 1 m
segment tb T.diverging -> G.b1 1 m
segment ua G.a2 -> stop 1 m
segment ub G.b2 -> stop 1 m
feeder main -> lead
feeder main -> ta
feeder main -> tb
feeder main -> ua
feeder main -> ub
"""


def told(text: str) -> list[str]:
    return [one.rule for one in found_in(text)]


@pytest.mark.parametrize("track", WALKS)
@pytest.mark.parametrize("feed", ["switched from stock rails", "switched through main.red diverging main.black"])
def test_each_wheel_stays_on_its_rail(track: str, feed: str) -> None:
    facts = facts_of(around(f"{LINE.format('isolated')}frog G {feed}", *ENDS))
    setting = frozenset({("G", track)})
    carried = legs(facts, setting)
    for side, rail, leg in zip(("left", "right"), WALKS[track], ("red", "black"), strict=True):
        walked = walk(facts, f"to-G-{track}1's {side} rail", setting)
        assert walked[1:-1] == [f"G's {name}" for name in rail.split(", ")]
        assert walked[-1] == f"from-G-{track}2's {side} rail"
        assert {carried[name] for name in walked} == {leg}


@pytest.mark.parametrize("track", WALKS)
def test_plastic_frogs_need_no_points(track: str) -> None:
    facts = facts_of(around(LINE.format("dead"), *ENDS))
    assert not facts.graph.positions and not facts.shorts and not facts.opposed
    for side, rail in zip(("left", "right"), WALKS[track], strict=True):
        walked = walk(facts, f"to-G-{track}1's {side} rail", frozenset())
        assert walked[1:-1] == [f"G's {name}" for name in rail.split(", ") if "frog" not in name]


def test_the_tracks_are_not_connected_and_turn_nothing() -> None:
    facts = facts_of(around(LINE.format("isolated") + "frog G automatic main", *ENDS))
    assert not facts.shorts and not facts.opposed and not facts.turning.odd_cycles()
    assert facts.layout.pieces["G"].template.parts == 2


@pytest.mark.parametrize(("first", "second", "wrong"), [("red", "black", False), ("black", "red", True)])
def test_frogs_switched_with_the_points_before_it(first: str, second: str, wrong: bool) -> None:
    line = f"frog G switched with T through main.{first} diverging main.{second}\n"
    assert told(JUNCTION + line) == (["frog-wired-backwards"] if wrong else [])


def test_a_frog_without_power_is_told() -> None:
    assert told(JUNCTION) == ["unfed-frog"]
    plastic = JUNCTION.replace("60 cm isolated", "60 cm dead")
    assert "stalls" in told(plastic + "engine mogul left 0 12 mm right 0 12 mm 0.4 A\n")


@pytest.mark.parametrize("build", ["dead", "isolated"])
def test_frogs_lie_as_far_apart_as_the_plan_says(build: str) -> None:
    """By hand, HO: a number 6 is 0.76 · 0.649 in · 6 = 75.2 mm long, 7.6 mm of it before the point (0.05 in · 6)."""
    facts = facts_of("scale HO\n" + around(LINE.format(build), *ENDS))
    (leg,) = (one for one in WalkedTrack(facts.wiring).legs[("G", "a1")] if one.position in (None, "a"))  # type: ignore[index]
    metals = facts.layout.pieces["G"].template.metals
    frogs = [one for one in leg.left if one.metal is None or metals[one.metal].frog]
    points = [frogs[0].stop, frogs[1].start]
    throat = frogs[0].stop - frogs[0].start
    assert len(frogs) == 2 and frogs[0].start == leg.length - frogs[1].stop
    assert 560_000 < points[1] - points[0] < 600_000, measure(points[1] - points[0])
    assert 15_000 < throat < 25_000
    assert [one.metal is None for one in leg.right] == [False]


def test_no_work_can_be_done_on_it() -> None:
    with pytest.raises(AssertionError, match="no points"):
        facts_of(around(LINE.format("isolated") + "bond G closure rails to stock rails", *ENDS))
