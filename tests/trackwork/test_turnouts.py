"""The other turnouts: three-way, stub, spring, movable and sprung frogs, walked from their drawings."""

from __future__ import annotations

import pytest

from railbond.inspection import examine
from railbond.rules import all_rules
from railbond.rules.fed_through_points import touch_fed_rails

from .walking import around, facts_of, found_in, legs, opposed_blades, walk

THREE = ("W.points",), ("W.left", "W.through", "W.right")
TWO = ("T.points",), ("T.through", "T.diverging")

# Each route's wheels, left and right, over a three-way turnout; `*`: not where that route's points come first.
THREE_WAY = {
    "left": (
        "left stock",
        "right stock, *through right closure, left closure, frog C0, left middle, frog C1, left frog rail",
    ),
    "through": (
        "left stock, through left closure, frog C1, through left frog rail",
        "right stock, through right closure, frog C2, through right frog rail",
    ),
    "right": (
        "left stock, *through left closure, right closure, frog C0, right middle, frog C2, right frog rail",
        "right stock",
    ),
}


@pytest.mark.parametrize("shape", ["symmetrical", "staggered left", "staggered right"])
@pytest.mark.parametrize("feed", ["from stock rails", "through main.red diverging main.black"])
@pytest.mark.parametrize("route", THREE_WAY)
def test_three_way(shape: str, feed: str, route: str) -> None:
    facts = facts_of(around(f"three-way W {shape} isolated-frog\nfrog W switched {feed}", *THREE))
    setting = frozenset({("W", route)})
    carried = legs(facts, setting)
    for side, rail, leg in zip(("left", "right"), THREE_WAY[route], ("red", "black"), strict=True):
        walked = walk(facts, f"to-W-points's {side} rail", setting)
        names = [one.removeprefix("*") for one in rail.split(", ") if one[0] != "*" or shape != f"staggered {route}"]
        whole = [name if name[:4] == "frog" or name.endswith("rail") else f"{name} rail" for name in names]
        assert walked[1:-1] == [f"W's {name}" for name in whole]
        assert walked[-1] == f"from-W-{route}'s {side} rail"
        assert {carried[name] for name in walked} == {leg}
    assert not facts.shorts and not facts.opposed
    assert not opposed_blades(facts)


STUB = {
    "through": (
        "left moving rail, through inner lead, frog, through frog rail",
        "right moving rail, through outer lead",
    ),
    "diverging": (
        "left moving rail, diverging outer lead",
        "right moving rail, diverging inner lead, frog, diverging frog rail",
    ),
}


@pytest.mark.parametrize("build", ["isolated-frog", "live-frog"])
@pytest.mark.parametrize("route", STUB)
def test_stub(build: str, route: str) -> None:
    gaps = "\ngap T.through frog rail\ngap T.diverging frog rail"
    facts = facts_of(around(f"stub T left {build}\nfrog T switched from stock rails{gaps}", *TWO))
    setting = frozenset({("T", route)})
    carried = legs(facts, setting)
    for side, rail, leg in zip(("left", "right"), STUB[route], ("red", "black"), strict=True):
        walked = walk(facts, f"to-T-points's {side} rail", setting)
        assert walked[1:-1] == [f"T's {name}" for name in rail.split(", ")]
        assert walked[-1] == f"from-T-{route}'s {side} rail"
        assert {carried[name] for name in walked} == {leg}
    assert not facts.shorts and not facts.opposed


def test_a_right_hand_stub_is_the_mirror_image() -> None:
    facts = facts_of(around("stub T right isolated-frog\nfrog T switched from stock rails", *TWO))
    setting = frozenset({("T", "through")})
    walked = walk(facts, "to-T-points's right rail", setting)
    names = [one.removeprefix("T's ") for one in walked[1:-1]]
    assert names == ["right moving rail", *STUB["through"][0].split(", ")[1:]]
    assert not facts.shorts and not facts.opposed


def test_moving_rails_live_by_touch_until_they_have_jumpers() -> None:
    """With feeders only beyond the frog, the points' end has power through the butt of the moving rails."""
    text = around("stub T left dead-frog", *TWO).replace("feeder main -> to-T-points\n", "")
    fed = {facts.graph.names[rail] for facts in [facts_of(text)] for rail in touch_fed_rails(facts)}
    assert {"T's left moving rail", "T's right moving rail", "to-T-points's left rail"} <= fed
    bonded = text.replace("dead-frog\n", "dead-frog\nbond T closure rails to stock rails\n")
    assert not touch_fed_rails(facts_of(bonded))


def rules_told(text: str) -> list[str]:
    return [one.rule for one in found_in(text)]


@pytest.mark.parametrize("hand", ["left", "right", "curved left", "wye"])
@pytest.mark.parametrize("build", ["isolated-frog", "movable-frog", "sprung-frog"])
def test_fed_frogs_are_sound(hand: str, build: str) -> None:
    ends = TWO if hand != "wye" else (("T.points",), ("T.left", "T.right"))
    assert rules_told(around(f"turnout T {hand} {build}\nfrog T switched from stock rails", *ends)) == []


def test_a_movable_point_without_a_feed_hangs_on_its_touch() -> None:
    assert rules_told(around("turnout T left movable-frog", *TWO)) == ["fed-through-points"]


def test_a_trailing_train_shorts_at_the_frog_of_a_spring_switch() -> None:
    """The frog stands for the through route, and a train may come from the other all the same: an error."""
    sprung = "turnout T left isolated-frog sprung through\nfrog T switched from stock rails"
    facts = facts_of(around(sprung, *TWO))
    assert facts.graph.positions["T"] == ("through",)
    assert "opposed-at-gap" in rules_told(around(sprung, *TWO))
    unit = sprung.replace("switched from stock rails", "automatic main")
    assert rules_told(around(unit, *TWO)) == []


def test_a_live_spring_switch_opposes_beyond_its_frog() -> None:
    live = "turnout T left live-frog sprung through\ngap T.diverging frog rail"
    told = rules_told(around(live, *TWO))
    assert "opposed-at-gap" in told and "set-against" not in told


@pytest.mark.parametrize("build", ["isolated-frog", "live-frog"])
def test_a_unit_mends_a_spring_switch(build: str) -> None:
    """The fix that is offered is the whole mend."""
    from trackplan.edit import apply

    text = around(f"turnout T left {build} sprung through\nfrog T switched from stock rails", *TWO)
    text += "gap T.through frog rail\ngap T.diverging frog rail\n"
    facts = facts_of(text)
    found = [one for one in examine(facts, all_rules()) if one.rule == "opposed-at-gap"]
    assert [len(one.fixes) for one in found] == [1] and "automatic frog unit" in found[0].fixes[0].words
    assert rules_told(apply(facts.sources["plan.trackplan"], found[0].fixes[0].edits)) == []


def test_a_live_stub_is_fed_at_its_frog() -> None:
    text = around("stub T left live-frog\ngap T.through frog rail\ngap T.diverging frog rail", *TWO)
    touched = [one for one in examine(facts_of(text), all_rules()) if one.rule == "fed-through-points"]
    assert [one.fixes[0].edits[0].text for one in touched] == ["frog T  switched from stock rails"]


def test_a_wye_springs_left_or_right() -> None:
    from layout.plans import faults

    ends = "".join(f"joint T.{end} -> stop\n" for end in ("points", "left", "right"))
    (fault,) = faults(f"turnout T wye dead-frog sprung through\n{ends}")
    assert "left and right" in fault.message
    assert not faults(f"turnout T wye dead-frog sprung left\n{ends}")
