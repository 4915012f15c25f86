"""Analog power, toggles, common rails and contacts in feeders: what is told, and what is as it should be."""

from __future__ import annotations

import pytest

from railbond.circuit.facts import Facts
from railbond.findings import Finding
from railbond.inspection import examine
from railbond.rules import all_rules
from trackplan.read import read
from trackplan.span import Source


def facts_of(text: str) -> Facts:
    source = Source("plan.trackplan", text)
    reading = read(source)
    assert not reading.broken, reading.broken
    return Facts(reading.statements, {source.path: source})


def told(text: str) -> list[Finding]:
    return [one for one in examine(facts_of(text), all_rules()) if one.rule != "wires-unknown"]


def names(text: str) -> list[str]:
    return [one.rule for one in told(text)]


COMMON = """\
booster B1 15 V 5 A
district main from B1
block yard in main
{common}
segment line stop -> J 1 m
segment shed J -> stop 1 m
{gap}
feeder main -> line
feeder yard -> shed
"""


@pytest.mark.parametrize(
    ("common", "gap", "rails"),
    [
        ("", "gap J both rails", None),
        ("", "gap J left rail", "right rail"),
        ("common black of main yard", "gap J left rail", None),
        ("common red of main yard", "gap J right rail", None),
        ("common black of main yard", "gap J right rail", "left rail"),
        ("common black of main yard", "", "left rail"),
        ("", "", "both rails"),
    ],
)
def test_only_the_rail_that_is_not_common_must_be_gapped(common: str, gap: str, rails: str | None) -> None:
    """Red is left and black right, so a common black rail may run through and a common red one too, each alone."""
    found = told(COMMON.format(common=common, gap=gap))
    if rails is None:
        assert not found
        return
    (joined,) = found
    assert joined.rule == "districts-joined"
    assert joined.fixes[0].edits[0].text.split()[-2:] == rails.split()
    assert not facts_of(COMMON.format(common=common, gap=gap)).revised(joined.fixes[0].edits).minglings


def test_a_feeder_to_a_common_rail_from_the_wrong_leg_is_still_a_short() -> None:
    text = COMMON.format(common="common black of main yard", gap="gap J left rail")
    assert names(text.replace("feeder yard -> shed", "feeder yard -> shed crossed")) == ["legs-joined"]


CABS = """\
cab one 12 V 1 A
cab two 12 V 1 A
block a in one or two
block b in one or two
segment up stop -> J 1 m
segment down J -> stop 1 m
{gap}
feeder a -> up
feeder b -> down
"""


def test_two_blocks_between_which_toggles_choose() -> None:
    assert not told(CABS.format(gap="gap J both rails"))
    assert not told(CABS.format(gap="gap J left rail\ncommon black of one two"))
    (joined,) = told(CABS.format(gap=""))
    assert joined.rule == "districts-joined" and joined.setting == "a switched to one and b switched to two"
    assert joined.fixes[0].edits[0].text == "gap up.finish  both rails"


def test_the_same_cab_the_wrong_way_round_beyond_the_gap() -> None:
    (opposed,) = told(CABS.format(gap="gap J both rails").replace("b -> down", "b -> down crossed"))
    assert opposed.rule == "opposed-at-gap" and opposed.setting == "a switched to one and b switched to one"


MIXED = """\
booster B1 15 V 5 A
district main from B1
cab hand 12 V 1 A
segment line stop -> J 1 m
segment yard J -> stop 1 m
gap J {rails}
feeder main -> line
feeder hand -> yard
{more}
"""


@pytest.mark.parametrize(
    ("rails", "more", "rules"),
    [
        ("both rails", "", ["analog-digital-gap"]),
        ("left rail", "", ["analog-meets-digital", "analog-digital-gap"]),
        ("both rails", "common black of main hand", ["analog-meets-digital", "analog-digital-gap"]),
    ],
)
def test_analog_and_digital_meet(rails: str, more: str, rules: list[str]) -> None:
    """Through metal, through a wire that they share, and, once that is mended, still through every wheel."""
    assert names(MIXED.format(rails=rails, more=more)) == rules


def test_a_toggle_that_lends_the_yard_to_either_cures_the_wheel() -> None:
    text = MIXED.format(rails="both rails", more="")
    (bridged,) = told(text)
    cured = facts_of(text).revised(bridged.fixes[0].edits)
    assert not examine(cured, [one for one in all_rules() if one.happens == "short"])
    assert {str(one.name): one.others for one in cured.statements if type(one).__name__ == "Block"} == {
        "lent1": ("main",)
    }


SPUR = """\
booster B1 15 V 5 A
district main from B1
segment lead stop -> T1.points 1 m
turnout T1 left dead-frog
bond T1 closure rails to stock rails
segment line T1.through -> stop 1 m
segment spur T1.diverging -> stop 1 m
gap T1.diverging both rails
feeder main -> lead
feeder main -> line
{feeder}
engine e left 0 50 mm right 0 50 mm 0.4 A
limit crawl-speed 20 mm/s
"""


def test_a_spur_that_is_dead_unless_its_points_are_set_is_no_dead_rail() -> None:
    bad = {"unfed-rail", "fed-through-points", "opposed-at-gap", "legs-joined"}
    with_contacts = SPUR.format(feeder="feeder main -> spur through contacts of T1 diverging")
    assert not bad & set(names(with_contacts))
    assert not [one for one in told(with_contacts) if one.rule == "stalls" and "spur" in one.names]
    assert "unfed-rail" in names(SPUR.format(feeder=""))


def test_contacts_that_let_power_in_the_wrong_way_round_are_told_with_their_setting() -> None:
    (opposed,) = (
        one
        for one in told(SPUR.format(feeder="feeder main -> spur crossed through contacts of T1 diverging"))
        if one.happens == "short"
    )
    assert opposed.rule == "opposed-at-gap" and opposed.setting == "T1 thrown"
    assert any("contacts tie" in step.text and "T1 thrown" in step.text for step in opposed.why)
