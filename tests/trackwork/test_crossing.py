"""A crossing and its frogs, walked from the drawing in its docstring."""

from __future__ import annotations

import pytest

from .walking import around, facts_of, found_in, legs, walk

ENDS = ("X.a1", "X.b1"), ("X.a2", "X.b2")
ISOLATED = "crossing X 30 degrees isolated-frog\n"
WALKS = {
    "a": (
        "near a left rail, frog 1, far a left rail",
        "near a right rail, frog 2, far a right rail",
    ),
    "b": (
        "near b left rail, far a left rail, middle b left rail, frog 2, far b left rail",
        "near b right rail, frog 1, middle b right rail, near a right rail, far b right rail",
    ),
}


@pytest.mark.parametrize("track", WALKS)
@pytest.mark.parametrize("feed", ["switched from stock rails", "switched through main.red diverging main.black"])
def test_each_wheel_stays_on_its_rail(track: str, feed: str) -> None:
    facts = facts_of(around(f"{ISOLATED}frog X {feed}", *ENDS))
    setting = frozenset({("X", track)})
    carried = legs(facts, setting)
    for side, rail, leg in zip(("left", "right"), WALKS[track], ("red", "black"), strict=True):
        walked = walk(facts, f"to-X-{track}1's {side} rail", setting)
        assert walked[1:-1] == [f"X's {name}" for name in rail.split(", ")]
        assert walked[-1] == f"from-X-{track}2's {side} rail"
        assert {carried[name] for name in walked} == {leg}


def test_dead_frogs_need_no_points() -> None:
    facts = facts_of(around("crossing X 90 degrees dead-frog", *ENDS))
    assert not facts.graph.positions and not facts.shorts and not facts.opposed
    for track in "ab":
        walked = walk(facts, f"to-X-{track}1's left rail", frozenset())
        assert walked[1:-1] == [f"X's {part} {track} left rail" for part in ("near", "middle", "far")]


def test_the_tracks_are_not_connected_but_their_obtuse_frogs_are() -> None:
    """Tracks of opposite legs oppose each other where the rails of one side meet; plastic frogs keep them apart."""
    crossed = around(ISOLATED + "frog X automatic main", *ENDS).replace("-> to-X-b1\n", "-> to-X-b1 crossed\n")
    facts = facts_of(crossed.replace("-> from-X-b2\n", "-> from-X-b2 crossed\n"))
    assert not facts.shorts and not facts.turning.odd_cycles()
    met = [{facts.graph.names[roll.one], facts.graph.names[roll.other]} for roll, _ in facts.opposed]
    assert {"X's near b left rail", "X's far a left rail"} in met
    plastic = facts_of(crossed.replace("isolated-frog\nfrog X automatic main", "dead-frog")
                       .replace("-> from-X-b2\n", "-> from-X-b2 crossed\n"))  # fmt: skip
    assert not plastic.shorts and not plastic.opposed


# T diverges onto track b of the crossing and runs through along track a, so T knows which track is run.
JUNCTION = """\
booster B1 15 V 5 A
district main from B1
turnout T left isolated-frog
frog T switched from stock rails
crossing X 30 degrees isolated-frog
segment lead stop -> T.points 1 m
segment ta T.through -> X.a1 1 m
segment tb T.diverging -> X.b1 1 m
segment ua X.a2 -> stop 1 m
segment ub X.b2 -> stop 1 m
feeder main -> lead
feeder main -> ta
feeder main -> tb
feeder main -> ua
feeder main -> ub
"""


@pytest.mark.parametrize(("first", "second", "wrong"), [("red", "black", False), ("black", "red", True)])
def test_frogs_switched_with_other_points(first: str, second: str, wrong: bool) -> None:
    from railbond.inspection import examine
    from railbond.rules import all_rules

    facts = facts_of(f"{JUNCTION}frog X switched with T through main.{first} diverging main.{second}\n")
    assert set(facts.graph.positions) == {"T"}
    told = [one.rule for one in examine(facts, all_rules()) if one.rule != "set-against"]
    assert told == (["frog-wired-backwards"] if wrong else [])


def test_an_own_toggle_is_a_switch_of_its_own() -> None:
    facts = facts_of(f"{JUNCTION}frog X switched through main.red diverging main.black\n")
    assert set(facts.graph.positions) == {"T", "X"}
    assert not facts.opposed


def test_a_crossing_without_a_feed_is_offered_a_unit_first() -> None:

    (found,) = found_in(JUNCTION)
    assert found.rule == "unfed-frog"
    assert ["automatic frog unit" in found.fixes[0].words, "toggle" in found.fixes[1].words] == [True, True]
