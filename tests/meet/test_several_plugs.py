"""Modules that take two buses through two plugs: what they and their neighbors are called makes no name alike."""

from __future__ import annotations

from meet.samples import TWO_BOOSTERS, TWO_TRACKS
from railbond.doorway import Opened, enter

TURN = """\
plan "Out on the front track, home on the back one"
endplate W-1 left black
endplate W-2 left black
bus plug-f -> PF
bus plug-b -> PB
reverser AR in plug-f trips 2 A
segment f W-1 -> A 60 cm
segment turn A -> B 3 m
segment b B -> W-2 60 cm
gap A both rails
gap B both rails
feeder PF -> f
feeder AR -> turn
feeder PB -> b crossed
"""
MEET = """\
plan "Row"
module town "town"
module s1 "straight"
module turn "turn"
couple town.E -> s1.W
couple s1.E -> turn.W
bus town.PF -> s1.plug-f
bus town.PB -> s1.plug-b
bus s1.PF -> turn.plug-f
bus s1.PB -> turn.plug-b
"""


def opened(root: str = "meet", **changed: str) -> Opened:
    texts = {"meet": MEET, "town": TWO_BOOSTERS, "straight": TWO_TRACKS, "turn": TURN} | changed
    return enter(root, lambda path: texts[path])


def test_each_is_sound_alone_and_in_the_meet() -> None:
    for root in ("straight", "town", "turn", "meet"):
        assert opened(root).inspection.findings == [], root


def test_a_plug_that_is_misspelled_is_one_of_the_same_module() -> None:
    wrong = MEET.replace("turn.plug-b", "turn.plug-bb")
    (first, *_) = (one for one in opened(meet=wrong).inspection.findings if one.rule == "unknown-name")
    assert "did you mean `turn.plug-b`?" in first.message


def test_a_plug_of_a_neighbor_is_not_what_a_wrong_name_means() -> None:
    wrong = MEET.replace("bus s1.PB -> turn.plug-b", "bus s1.PB -> turn.front")
    messages = [one.message for one in opened(meet=wrong).inspection.findings if one.rule == "unknown-name"]
    assert messages and not any("did you mean" in message for message in messages)


def test_a_turn_between_two_promised_edges_needs_its_reverser() -> None:
    unsaid = TURN.replace("endplate W-2 left black", "endplate W-2")
    assert opened("turn").inspection.findings == []
    assert [one.rule for one in opened("turn", turn=unsaid).inspection.findings] == ["reverser-idle"]


def test_a_reverser_of_track_that_runs_through_is_idle_in_spite_of_promises() -> None:
    through = TURN.replace("endplate W-2 left black", "endplate E left red").replace("B -> W-2", "B -> E")
    through = through.replace("PB -> b crossed", "PB -> b")
    assert [one.rule for one in opened("turn", turn=through).inspection.findings] == ["reverser-idle"]


def test_of_several_free_edges_one_that_the_row_has_led_to_was_meant() -> None:
    edges = 'plan "{}"\nendplate W left black\nendplate E left red\nsegment a W -> E 1 m\nfeeder plug -> a\n'
    names = ["p1", "p2", "p3", "p4"]
    rows = "couple p1.E -> p2.W\ncouple p1.E -> p3.W\n"
    lines = [f'module {name} "{name}"\n' for name in names]
    texts = {name: edges.format(name) for name in names} | {"meet": 'plan "Row"\n' + "".join(lines) + rows}
    texts["p1"] = texts["p1"].replace("endplate W left black\n", "").replace("W ->", "stop ->")
    (first,) = (one for one in enter("meet", texts.__getitem__).inspection.findings if one.rule == "coupled-twice")
    assert first.fixes[0].words == "write `p2.E` here"
