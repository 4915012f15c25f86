"""Slips in a meet's own lines: told at the line, and the first mend is what was meant. No module is to be rewired."""

from __future__ import annotations

import pytest

from meet.samples import TWO_BOOSTERS, TWO_TRACKS
from railbond.doorway import Opened, enter
from railbond.findings import Finding
from trackplan.edit import apply

YARD = """\
plan "Yard: the next booster, on the front track; the back one ends here"
booster BS 15 V 5 A
district south from BS trips 4 A
bus south -> P1
bus P1 -> P2
endplate W-1 left black
endplate W-2 left black
endplate E left red
segment front W-1 -> E 1.2 m
segment back W-2 -> stop 1.2 m
feeder P1 -> front
feeder P2 -> back
"""
PLAIN = 'plan "Plain"\nendplate W left black\nbus plug -> P1\nsegment a W -> stop 1.2 m\nfeeder P1 -> a\n'
MEET = """\
plan "Row"
module town "town"
module s1 "straight"
module s2 "straight"
module yard "yard"
module end "plain"
couple town.E-1 -> s1.W-2
couple town.E-2 -> s1.W-1
couple s1.E-1 -> s2.W-2
couple s1.E-2 -> s2.W-1
couple s2.E-1 -> yard.W-2
couple s2.E-2 -> yard.W-1
couple yard.E -> end.W
gap yard.W-1 both rails
gap yard.W-2 both rails
bus town.PF -> s1.plug-f
bus town.PB -> s1.plug-b
bus s1.PF -> s2.plug-f
bus s1.PB -> s2.plug-b
bus yard.P1 -> end.plug
"""
SLIPS = {
    "another bus of the same module": [("town.PF -> s1.plug-f", "town.PB -> s1.plug-f")],
    "plugs exchanged": [("s1.PF -> s2.plug-f", "s1.PF -> s2.plug-b"), ("s1.PB -> s2.plug-b", "s1.PB -> s2.plug-f")],
    "a module that is not beside": [("yard.P1 -> end.plug", "s2.PF -> end.plug")],
    "a plug crossed": [("s1.PF -> s2.plug-f", "s1.PF -> s2.plug-f crossed")],
    "tracks crosswise": [
        ("couple s1.E-1 -> s2.W-2", "couple s1.E-1 -> s2.W-1"),
        ("couple s1.E-2 -> s2.W-1", "couple s1.E-2 -> s2.W-2"),
    ],
    "a cut at the other end": [("gap yard.W-1", "gap yard.E")],
    "a cut forgotten": [("gap yard.W-2 both rails\n", "")],
    "one rail cut": [("gap yard.W-1 both rails", "gap yard.W-1 left rail")],
}


def opened(meet: str) -> Opened:
    texts = {"meet": meet, "town": TWO_BOOSTERS, "straight": TWO_TRACKS, "yard": YARD, "plain": PLAIN}
    return enter("meet", texts.__getitem__)


def told(meet: str) -> list[Finding]:
    return [one for one in opened(meet).outcome.findings if one.level != "note"]


def slipped(name: str) -> str:
    meet = MEET
    for right, wrong in SLIPS[name]:
        meet = meet.replace(right, wrong)
    return meet


def test_the_row_is_sound() -> None:
    assert told(MEET) == []


@pytest.mark.parametrize("name", SLIPS)
def test_the_first_mend_is_what_was_meant(name: str) -> None:
    wrong = slipped(name)
    (first, *others) = told(wrong)
    assert first.at.path == "meet" and not others, [one.message for one in others]
    mended = apply(opened(wrong).sources["meet"], first.fixes[0].edits)
    assert sorted(mended.replace("W-2 ->", "?").split()) == sorted(MEET.replace("W-2 ->", "?").split())


def test_two_tracks_of_one_edge_are_never_turned_end_for_end() -> None:
    slips = "plugs exchanged", "tracks crosswise"
    words = [fix.words for name in slips for one in told(slipped(name)) for fix in one.fixes]
    assert not any("end for end" in text for text in words), words
