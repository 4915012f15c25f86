"""Several slips in one plan: each is told as it is, and none is taken for what another one does to it.

What a person would do in each plan is common practice: who lays on a supply uses it, two rails of one track are of one
supply, and a cut in one rail only, where all others are in both, was to be of both.
"""

from __future__ import annotations

from railbond.findings import Finding
from railbond.inspection import inspect
from railbond.mend.overlay import Overlay
from railbond.mend.rounds import mend
from trackplan.gather import gather

HEAD = """\
booster  B1  15 V  5 A
district main  from B1  trips 4 A
district yard  from B1  trips 4 A
bus      main -> P1  2 m  14 AWG
bus      yard -> P2  3 m  14 AWG
"""
LADDER = f"""\
{HEAD}segment  west   stop -> T1.points       2 m
turnout  T1     left  number 6  isolated-frog
segment  east   T1.through -> stop      3 m
segment  lead   T1.diverging -> T2.points  1 m
turnout  T2     left  number 6  isolated-frog
segment  one    T2.through -> stop      1.2 m
segment  two    T2.diverging -> stop    1.2 m
gap      T1.diverging  both rails
frog     T1     switched from stock rails
frog     T2     switched through P2.red  diverging P2.black
feeder   P1 -> west
feeder   P1 -> east
feeder   P2 -> lead
feeder   P2 -> one
feeder   P2 -> two
"""
BALLOON = """\
booster  B1  15 V  5 A
district main  from B1  trips 4 A
reverser R1    in main
bus      main -> P1  2 m  14 AWG
bus      R1 -> P2    3 m  14 AWG
segment  lead  stop -> T1.points            2 m
turnout  T1    left  number 6  isolated-frog
segment  loop  T1.through -> T1.diverging   4 m
gap      loop.start   both rails
gap      loop.finish  both rails
gap      loop  at 2 m  left rail
frog     T1    switched from stock rails
feeder   P1 -> lead
feeder   P2 -> loop at 1 m
feeder   P2 -> loop at 3 m
"""


def mended(text: str) -> str:
    overlay = Overlay(["plan"], {"plan": text}.__getitem__)
    mend(overlay)
    return overlay.open_text("plan")


def said(text: str) -> list[str]:
    return sorted(" ".join(line.split()) for line in text.splitlines())


def without(text: str, *lines: str) -> str:
    for line in lines:
        assert line in text
        text = text.replace(line, "")
    return text


def told(text: str, rule: str) -> Finding:
    (one,) = [one for one in inspect(gather("plan.trackplan", lambda _: text)).findings if one.rule == rule]
    return one


def test_the_plans_are_sound() -> None:
    for text in (LADDER, BALLOON):
        found = inspect(gather("plan.trackplan", lambda _, text=text: text)).findings
        assert [one for one in found if one.level != "note"] == []


def test_a_cut_that_is_missing_beside_a_swapped_pair_is_no_bus_of_another_supply() -> None:
    """Begun at P1, the bus run to P2 would leave the district yard without a wire."""
    text = without(LADDER, "gap      T1.diverging  both rails\n").replace("P2 -> lead", "P2 -> lead  crossed")
    assert said(mended(text)) == said(LADDER.replace("gap      T1", "gap T1"))


def test_a_cut_in_one_rail_and_no_drop() -> None:
    """Its other rail has the power of the track beyond: the cut was to be in both, and the drop was forgotten."""
    text = f"""\
{HEAD}segment  west   stop -> T1.points      2 m
turnout  T1     left  number 6  dead-frog
segment  east   T1.through -> stop     2 m
segment  pit    T1.diverging -> stop   1 m
bond     T1     closure rails to stock rails
gap      east.start  left rail
gap      pit.start   both rails
feeder   P1 -> west
feeder   P2 -> pit
"""
    found = told(text, "unfed-rail")
    assert "cut in one rail only at east.start and has no wire" in found.message
    assert [edit.text for edit in found.fixes[0].edits] == ["both rails", "feeder P2 -> east"]


def test_a_rail_is_fed_as_the_rail_beside_it() -> None:
    """Within a section the reverser feeds both rails, however near another wire is."""
    text = without(BALLOON, "feeder   P2 -> loop at 1 m\n")
    assert [edit.text for edit in told(text, "unfed-rail").fixes[0].edits] == ["feeder P2.red -> loop.left at 1 m"]


def test_track_is_fed_as_its_frog() -> None:
    """Nothing else tells of which district a spur is that has lost its wires."""
    text = without(LADDER, "feeder   P2 -> lead\n", "feeder   P2 -> one\n", "feeder   P2 -> two\n")
    new = set(said(mended(text))) - set(said(text))
    assert new
    assert all("P2" in line for line in new)


def test_plain_track_of_two_supplies_that_meets_without_a_name_is_cut() -> None:
    """Whether a joint has a name does not tell whether a boundary was meant there."""
    text = f"{HEAD}segment  hill  stop -> dale.start  2 m\nsegment  dale  hill.finish -> stop  2 m\n"
    text += "feeder   P1 -> hill\nfeeder   P2 -> dale\n"
    assert [edit.text for edit in told(text, "districts-joined").fixes[0].edits] == ["gap hill.finish  both rails"]


def test_a_cut_that_parts_nothing_was_meant_for_the_far_end_of_the_loop() -> None:
    """The loop's three pieces hang on the reverser: one of its two cuts stands among them, and keeps its comment."""
    sound = """\
booster  B1  15 V  5 A
district main  from B1  trips 4 A
reverser R1    in main
segment  lead  stop -> T1.points      1.2 m
turnout  T1    left  number 6  isolated-frog
segment  rise  T1.through -> JW       40 cm
segment  loop  JW -> JE               3 m
segment  fall  JE -> T1.diverging     40 cm
frog     T1    switched from stock rails
gap      T1.through    both rails   # by the fascia
gap      T1.diverging  both rails   # under the bridge
feeder   main -> lead
feeder   R1 -> rise
feeder   R1 -> loop
feeder   R1 -> fall
"""
    text = sound.replace("gap      T1.diverging", "gap      JW")
    assert mended(text) == sound
