"""A double slip walked by hand, rail by rail, from the drawing in its docstring."""

from __future__ import annotations

import pytest

from .walking import around, facts_of, legs, opposed_blades, walk

ENTERING, LEAVING = ("D.a1", "D.b1"), ("D.a2", "D.b2")
FED = "slip D double isolated-frog\nfrog D switched from stock rails"
CONTACTS = "slip D double isolated-frog\nfrog D switched through main.red diverging main.black"

# For each position: the ends, and what the left and the right wheel roll over between them, read off the drawing.
WALKS = {
    "a": (
        "a1 a2",
        "a1 left rail, frog 1, a left middle rail, a left closure rail, left outer rail",
        "right outer rail, a right closure rail, a right middle rail, frog 2, a2 right rail",
    ),
    "b": (
        "b1 b2",
        "left outer rail, b left closure rail, b left middle rail, frog 2, b2 left rail",
        "b1 right rail, frog 1, b right middle rail, b right closure rail, right outer rail",
    ),
    "a-b": (
        "a1 b2",
        "a1 left rail, frog 1, a left middle rail, a-b left slip rail, b left middle rail, frog 2, b2 left rail",
        "right outer rail",
    ),
    "b-a": (
        "b1 a2",
        "left outer rail",
        "b1 right rail, frog 1, b right middle rail, b-a right slip rail, a right middle rail, frog 2, a2 right rail",
    ),
}
# The blades that lie against a rail in each position; the other four stand open. Those of end 1 know the exit only,
# those of end 2 the entry only.
TOUCHING = {
    "exit a2": {"a right closure rail - right outer rail", "b-a right slip rail - b right middle rail"},
    "exit b2": {"b left closure rail - left outer rail", "a-b left slip rail - a left middle rail"},
    "entry a1": {"a left closure rail - left outer rail", "a-b left slip rail - b left middle rail"},
    "entry b1": {"b right closure rail - right outer rail", "b-a right slip rail - a right middle rail"},
}
SET = {
    "a": ("exit a2", "entry a1"),
    "b": ("exit b2", "entry b1"),
    "a-b": ("exit b2", "entry a1"),
    "b-a": ("exit a2", "entry b1"),
}


@pytest.mark.parametrize("position", WALKS)
@pytest.mark.parametrize("piece", [FED, CONTACTS])
def test_each_wheel_stays_on_its_rail(position: str, piece: str) -> None:
    """Left wheels meet nothing but the left polarity, right ones the right one, and both frogs are on their side."""
    facts, setting = facts_of(around(piece, ENTERING, LEAVING)), frozenset({("D", position)})
    ends, *rails = WALKS[position]
    enters, leaves = ends.split()
    carried = legs(facts, setting)
    for side, rail, leg in zip(("left", "right"), rails, ("red", "black"), strict=True):
        walked = walk(facts, f"to-D-{enters}'s {side} rail", setting)
        between = [f"D's {name}" for name in rail.split(", ")]
        assert walked == [f"to-D-{enters}'s {side} rail", *between, f"from-D-{leaves}'s {side} rail"]
        assert {carried[name] for name in walked} == {leg}


@pytest.mark.parametrize("position", WALKS)
def test_blades_lie_as_the_points_of_their_end_do(position: str) -> None:
    facts = facts_of(around(FED, ENTERING, LEAVING))
    names = facts.graph.names

    def told(one: int, other: int) -> str:
        return f"{names[one]} - {names[other]}".replace("D's ", "")

    touching = {told(b.one, b.other) for b in facts.graph.bonds if b.kind == "touch" and b.when == ("D", position)}
    standing = {told(b.closure, b.stock) for b in facts.graph.blades if b.when == ("D", position)}
    assert touching == set().union(*(TOUCHING[way] for way in SET[position]))
    assert standing == set().union(*TOUCHING.values()) - touching


def test_nothing_is_wrong_with_it() -> None:
    for piece in (FED, CONTACTS):
        facts = facts_of(around(piece, ENTERING, LEAVING))
        assert not facts.shorts and not facts.opposed and not facts.turning.odd_cycles()
        assert not opposed_blades(facts)


def test_frogs_the_wrong_way_round_are_told_once() -> None:
    from railbond.inspection import examine
    from railbond.rules import all_rules

    swapped = CONTACTS.replace("through main.red diverging main.black", "through main.black diverging main.red")
    facts = facts_of(around(swapped, ENTERING, LEAVING))
    assert [one.rule for one in examine(facts, all_rules()) if one.level == "error"] == ["frog-wired-backwards"]


SINGLE = {
    "a": (
        "a1 a2",
        "a1 left rail, frog 1, a left middle rail, a2 left rail",
        "right outer rail, a right closure rail, a right middle rail, frog 2, a2 right rail",
    ),
    "b": (
        "b1 b2",
        "b1 left rail, b left middle rail, frog 2, b2 left rail",
        "b1 right rail, frog 1, b right middle rail, b right closure rail, right outer rail",
    ),
    "a-b": (
        "a1 b2",
        "a1 left rail, frog 1, a left middle rail, a-b left slip rail, b left middle rail, frog 2, b2 left rail",
        "right outer rail",
    ),
}


@pytest.mark.parametrize("position", SINGLE)
def test_a_single_slip_has_one_curve(position: str) -> None:
    facts = facts_of(around(FED.replace("double", "single"), ENTERING, LEAVING))
    setting = frozenset({("D", position)})
    assert facts.graph.positions["D"] == ("a", "b", "a-b")
    ends, *rails = SINGLE[position]
    carried = legs(facts, setting)
    for side, rail, leg in zip(("left", "right"), rails, ("red", "black"), strict=True):
        walked = walk(facts, f"to-D-{ends[:2]}'s {side} rail", setting)
        assert walked[1:-1] == [f"D's {name}" for name in rail.split(", ")]
        assert walked[-1] == f"from-D-{ends[3:]}'s {side} rail"
        assert {carried[name] for name in walked} == {leg}


@pytest.mark.parametrize("slips", ["single", "double"])
def test_dead_frog_closures_live_by_touch_until_they_are_bonded(slips: str) -> None:
    from railbond.rules.fed_through_points import touch_fed_rails

    plain = f"slip D {slips} dead-frog"
    facts = facts_of(around(plain, ENTERING, LEAVING))
    found = {facts.graph.names[rail] for rail in touch_fed_rails(facts)}
    closures = {name for name in facts.graph.names if "closure rail" in name or "slip rail" in name}
    assert found == closures and len(closures) == (6 if slips == "double" else 3)
    bonded = facts_of(around(f"{plain}\nbond D closure rails to stock rails", ENTERING, LEAVING))
    assert not touch_fed_rails(bonded) and not bonded.shorts and not bonded.opposed
