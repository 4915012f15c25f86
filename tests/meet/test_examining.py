"""Modules coupled as one: edges, bus plugs, polarity, turning, and who must see to what."""

from __future__ import annotations

import pytest

from meet.samples import (
    BUSES,
    COUPLES,
    LOOP,
    MODULES,
    SOUND,
    STRAIGHT,
    TOWN,
    TWIN_E,
    TWIN_W,
    line_of,
    meet,
    outcome,
    told,
)
from railbond.layout.model import EndAt
from railbond.meet.meet_facts import MeetFacts

MEET = "meet.trackplan"
PAIR = 'plan "Ring"\nmodule town "town.trackplan"\nmodule one "straight.trackplan"\n'
FAR = 'plan "Two"\nmodule town "town.trackplan"\nmodule far "far.trackplan"\ncouple town.E -> far.W\n'


def test_a_sound_meet_has_no_finding() -> None:
    assert told(SOUND) == []


def test_a_module_used_twice_is_there_twice() -> None:
    layout = MeetFacts(meet(SOUND)).layout
    assert {"town.line", "one.line", "two.line", "loop.lead", "loop.T1", "loop.loop"} == set(layout.pieces)
    pairs = {(one.one, one.other) for one in layout.meetings}
    assert (EndAt("one.line", "finish"), EndAt("two.line", "start")) in pairs


def test_every_rail_of_the_whole_has_power_from_the_one_booster() -> None:
    """Power reaches the far end only over three bus plugs, and through none that is a source of its own."""
    whole = MeetFacts(meet(SOUND))
    assert [name for name, one in whole.layout.supplies.items() if one.kind != "reverser"] == ["town.main"]
    assert not [rail for rail in whole.graph.rails if not whole.proof.reachable(rail)]


def test_a_crossed_bus_is_told_at_the_meets_line() -> None:
    line = "bus one.T1 -> two.plug crossed"
    text = SOUND.replace("bus one.T1 -> two.plug", line)
    assert told(text) == [("", "legs-joined", MEET, line_of(text, line))]


def test_a_module_turned_end_for_end_with_its_bus_crossed_fits() -> None:
    turned = COUPLES.replace("town.E -> one.W", "town.E -> one.E").replace("one.E -> two.W", "one.W -> two.W")
    found = told(MODULES + turned + BUSES)
    assert {one[1] for one in found} == {"legs-joined"}, "told to both owners, at the line that couples them"
    assert {one[0] for one in found} == {"town", "one"} and {one[2] for one in found} == {MEET}
    crossed = BUSES.replace("one.plug", "one.plug crossed").replace("two.plug", "two.plug crossed")
    assert told(MODULES + turned + crossed) == []


def test_a_crossed_module_is_told_in_its_own_file_and_once() -> None:
    """What follows from it at its neighbors is not told again."""
    bad = LOOP.replace("feeder P -> lead", "feeder P -> lead crossed")
    assert told(SOUND, loop=bad) == [("loop", "endplate-crossed", "loop.trackplan", 2)]


def test_an_unplugged_module_is_told_at_its_line() -> None:
    text = SOUND.replace("bus two.T1 -> loop.plug\n", "")
    found = told(text)
    assert [one[:3] for one in found] == [("loop", "loose-end", "loop.trackplan")]


def test_an_edge_is_coupled_once() -> None:
    text = SOUND + "couple one.E -> loop.W\n"
    assert ("", "coupled-twice", MEET, line_of(text, "couple one.E -> loop.W")) in told(text)


@pytest.mark.parametrize(
    ("line", "rule", "words"),
    [
        ("couple town.E -> one.X", "unknown-name", "no endplate is called `one.X`"),
        ("bus town.P9 -> one.plug", "unknown-name", "`town.P9`"),
        ("bus two.T1 -> town.main", "impossible", "which has power of its own"),
        ("gap one.line both rails", "impossible", "only where modules are coupled"),
        ("feeder town.P1 -> one.line", "impossible", "belongs in the module's own plan"),
        ('module gone "gone.trackplan"', "syntax", "there is no file `gone.trackplan`"),
    ],
)
def test_what_a_meet_cannot_mean_is_told_at_its_line(line: str, rule: str, words: str) -> None:
    text = SOUND + line + "\n"
    found = [one.finding for one in outcome(text).told if one.finding.rule == rule]
    assert [one for one in found if words in one.message], found
    at = found[0].at
    assert at.path == MEET and outcome(text).meet.sources[MEET].line_column(at.start)[0] == line_of(text, line)


def test_modules_that_turn_the_track_together_are_told_at_the_coupling() -> None:
    """Two balloon loops without a reverser turn by themselves; a ring through a junction's two frog ends only does so
    once the last edge is coupled."""
    junction = """\
plan "Junction"
booster B1 15 V 5 A
district main from B1
endplate A
endplate B
segment tail stop -> T1.points 1 m
turnout T1 left number 6 dead-frog
bond T1 closure rails to stock rails
segment a T1.through -> A 1 m
segment b T1.diverging -> B 1 m
bus main -> P1
feeder P1 -> tail
feeder P1 -> a
feeder P1 -> b
"""
    base = PAIR + "couple town.A -> one.W\nbus town.P1 -> one.plug\n"
    assert told(base, town=junction) == []
    line = "couple one.E -> town.B"
    found = told(base + line + "\n", town=junction)
    assert ("", "meet-reverses", MEET, line_of(base + line, line)) == found[0]


def test_two_boosters_meet_at_a_gap_of_the_meet() -> None:
    far = TOWN.replace("endplate E left red", "endplate W left black").replace("stop -> E", "W -> stop")
    assert [one[1] for one in told(FAR, far=far)] == ["districts-joined"]
    assert told(FAR + "gap town.E both rails\n", far=far) == []


@pytest.mark.parametrize("place", ["town.E", "far.W"])
@pytest.mark.parametrize("rail", ["left", "right"])
def test_a_gap_of_one_rail_is_read_along_the_arrow(place: str, rail: str) -> None:
    """Both arrows run east, so the left rail is the same one seen from either edge."""
    far = TOWN.replace("endplate E left red", "endplate W left black").replace("stop -> E", "W -> stop")
    base = FAR + f"gap {place} {rail} rail\n"
    whole = MeetFacts(meet(base, far=far))
    (meeting,) = [one for one in whole.layout.meetings if one.gaps]
    (side,) = meeting.gaps
    near, beyond = whole.wiring.across(meeting, side)
    names = {whole.graph.names[near], whole.graph.names[beyond]}
    assert names == {f"town.line's {rail} rail", f"far.line's {rail} rail"}


def test_edges_of_several_tracks_are_coupled_as_one() -> None:
    """Looking out of either edge its tracks are numbered from the left, so the first meets the other's last."""
    text = 'plan "Twin"\nmodule west "west.trackplan"\nmodule east "east.trackplan"\n'
    text += "couple west.E -> east.W\nbus west.main -> east.plug\n"
    whole = MeetFacts(meet(text, west=TWIN_W, east=TWIN_E))
    assert {(one.one.piece, one.other.piece) for one in whole.layout.meetings} == {
        ("west.north", "east.north"), ("west.south", "east.south"),
    }  # fmt: skip
    assert told(text, west=TWIN_W, east=TWIN_E) == []


def test_edges_with_different_numbers_of_tracks_do_not_fit() -> None:
    text = 'plan "Odd"\nmodule west "west.trackplan"\nmodule one "straight.trackplan"\n'
    text += "couple west.E -> one.W\nbus west.main -> one.plug\n"
    assert ("", "impossible", MEET, 4) in told(text, west=TWIN_W)


def test_a_module_left_out_takes_its_couplings_and_buses_with_it() -> None:
    whole = MeetFacts(meet(SOUND).without({"two"}))
    assert not any("two" in name for name in whole.layout.pieces)
    modules = {(one.one.piece.split(".")[0], one.other.piece.split(".")[0]) for one in whole.layout.meetings}
    assert modules == {("town", "one"), ("loop", "loop")}


def test_an_owner_is_the_one_that_is_named() -> None:
    assert meet(SOUND).owners == {"town": "the town club", "one": "one", "two": "two", "loop": "loop"}


def test_what_a_module_accepts_counts_in_the_meet() -> None:
    dead = STRAIGHT + "segment spur stop -> stop 1 m\n"
    assert {one[1] for one in told(SOUND, straight=dead)} == {"unfed-rail"}
    assert told(SOUND, straight=dead + 'accept unfed-rail at spur because "scenery only"\n') == []
