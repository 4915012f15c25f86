"""Supplies that feed nothing, and what was probably meant for them."""

from __future__ import annotations

import pytest

from railbond.doorway import enter
from railbond.findings import Finding, Fix
from railbond.rules.supply_unused import RULE

DISTRICTS = """\
booster B1 15 V 5 A
booster B2 15 V 5 A
district north from B1
district south from B2
bus north -> N1
bus N1 -> N2
bus south -> S1
bus S1 -> S2
segment a stop -> J 1 m
segment b J -> T.points 1 m
turnout T left number 6 isolated-frog
segment c T.through -> stop 1 m
segment d T.diverging -> stop 1 m
gap J both rails
frog T switched through S2.red diverging S2.black
feeder N1 -> a
feeder S1 -> b
feeder S1 -> c
feeder S2 -> d
"""
CABS = """\
cab C1 12 V 1 A
cab C2 12 V 1 A
block main in C1 or C2
block side in C1 or C2
common black of C1 C2
segment main-1 stop -> J 1 m
segment side-1 J -> stop 1 m
gap J left rail
feeder main -> main-1
feeder side -> side-1
"""


BOOSTERS = """\
booster B1 15 V 5 A
booster B2 15 V 5 A
district north from B1
district south from B2
segment a stop -> J 1 m
segment b J -> stop 1 m
gap J both rails
feeder north -> a
feeder south -> b
"""
DETECTED = """\
booster B1 15 V 5 A
district main from B1
block yard in main
common black of main yard
bus main -> M1
bus yard -> D1
segment yard-1 stop -> J 1 m
segment line J -> K 1 m
segment yard-2 K -> stop 1 m
gap J left rail
gap K left rail
feeder D1 -> yard-1
feeder M1 -> line
feeder D1 -> yard-2
"""
TOGGLE = """\
cab C1 12 V 1 A
block town in C1
bus town -> t1
segment line stop -> J 1 m
segment spur J -> stop 1 m
gap J both rails
feeder C1 -> line
feeder t1 -> spur
"""


def told(text: str) -> list[Finding]:
    return [one for one in enter("plan", lambda _: text).proven.findings if one.rule == RULE.name]


def edited(text: str, fix: Fix) -> str:
    for edit in sorted(fix.edits, key=lambda one: -one.at.start):
        text = text[: edit.at.start] + edit.text + text[edit.at.end :]
    return text


@pytest.mark.parametrize(
    ("sound", "right", "wrong"),
    [
        (DISTRICTS, "bus south -> S1", "bus north -> S1"),
        (CABS, "feeder side -> side-1", "feeder main -> side-1"),
        (
            CABS.replace("common black of C1 C2\n", "").replace("left rail", "both rails"),
            "side -> side",
            "main -> side",
        ),
        (CABS, "feeder main -> main-1", "feeder side -> main-1"),
        # a booster on which nothing is: a line that was copied
        (BOOSTERS, "south from B2", "south from B1"),
        (BOOSTERS.replace("B1", "north-b").replace("B2", "s-b"), "north from north-b", "north from s-b"),
        # a district whose blocks feed the track has a run of its own for some of it
        (DETECTED, "feeder M1 -> line", "feeder D1 -> line"),
    ],
)
def test_the_first_mend_is_the_line_that_names_the_other(sound: str, right: str, wrong: str) -> None:
    assert not told(sound)
    (finding,) = told(sound.replace(right, wrong))
    assert edited(sound.replace(right, wrong), finding.fixes[0]) == sound


def test_a_block_without_wires_is_missed_where_what_it_is_in_feeds_a_stretch_that_is_cut_off() -> None:
    (finding,) = told(TOGGLE.replace("t1 -> spur", "C1 -> spur"))
    assert TOGGLE in [edited(TOGGLE.replace("t1 -> spur", "C1 -> spur"), fix) for fix in finding.fixes]
    alone = TOGGLE.replace("feeder C1 -> line\n", "").replace("gap J both rails\n", "").replace("t1 ->", "C1 ->")
    assert not told(alone)


def test_what_a_run_is_for_is_said_of_the_run() -> None:
    (finding,) = told(DETECTED.replace("M1 -> line", "D1 -> line"))
    assert finding.message.startswith("the run from main to M1 feeds nothing, while yard feeds both ")
    spare = DETECTED.replace("bus main -> M1\n", "").replace("M1 -> line", "D1 -> line")
    assert not told(spare)


def test_contacts_and_single_wires_move_with_the_stretch() -> None:
    sound = DISTRICTS.replace("bus south -> S1\nbus S1 -> S2\n", "").replace("S1", "south").replace("S2", "south")
    single = sound.replace("feeder south -> c", "feeder south.red -> c.left\nfeeder south.black -> c.right")
    for text in (sound, single):
        wrong = text.replace("south.", "north.").replace("south ->", "north ->")
        (finding,) = told(wrong)
        assert text in [edited(wrong, fix) for fix in finding.fixes]


@pytest.mark.parametrize(
    "text",
    [
        # nothing is cut apart: what the other supply was for is not known
        CABS.replace("gap J left rail\n", "").replace("feeder side", "feeder main"),
        # two tracks that nothing but a frog parts, over a crossing
        "booster B1 15 V 5 A\nbooster B2 15 V 5 A\ndistrict one from B1\ndistrict two from B2\n"
        "crossing X 30 degrees dead-frog\nsegment a stop -> X.a1 1 m\nsegment b X.a2 -> stop 1 m\n"
        "segment c stop -> X.b1 1 m\nsegment d X.b2 -> stop 1 m\nfeeder one -> a\nfeeder one -> b\n"
        "feeder one -> c\nfeeder one -> d\n",
        # track without a wire is told as such, and which wire it lost
        DISTRICTS.replace("feeder S1 -> b\nfeeder S1 -> c\nfeeder S2 -> d\n", "").replace(
            "frog T switched through S2.red diverging S2.black\n", ""
        ),
        # a district whose blocks feed the track, and cabs behind toggles
        "booster B1 15 V 5 A\ndistrict main from B1\nblock west in main\nblock east in main\nsegment a stop -> J 1 m\n"
        "segment b J -> stop 1 m\ngap J both rails\nfeeder west -> a\nfeeder east -> b\n",
        # wires from a terminal that nothing leads to may be any supply's
        "booster B1 15 V 5 A\ndistrict main from B1\nreverser R in main\nsegment lead stop -> T.points 1 m\n"
        "turnout T left number 6 dead-frog\nsegment loop T.through -> T.diverging 4 m\ngap T.through both rails\n"
        "gap T.diverging both rails\nbond T closure rails to stock rails\nfeeder main -> lead\n"
        "feeder w1 -> loop at 1 m\nfeeder w1 -> loop at 2 m\nfeeder w1 -> loop at 3 m\n",
    ],
)
def test_what_is_used_or_not_known_is_not_told(text: str) -> None:
    assert not told(text)


def test_a_piece_that_is_cut_within_is_not_named_as_what_lies_beyond_the_cut() -> None:
    """Both stretches have a part of `a`; only the second has `b`."""
    text = """\
booster B1 15 V 5 A
district north from B1
district south from B1
segment a stop -> J 1 m
segment b J -> stop 1 m
gap a at 50 cm both rails
feeder north -> a at 20 cm
feeder north -> a at 80 cm
feeder north -> b
"""
    (finding,) = told(text)
    assert "north feeds both a and b, which are cut apart" in finding.message
