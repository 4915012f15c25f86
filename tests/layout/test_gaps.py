"""Which rail a gap cuts, held against a drawing for every way in which a joint can be built and named.

North is up. Piece A lies west of the joint and piece B east of it:

          A                 B
    ------------ north ------------        looking out of A one looks east:  left is north, right is south
    ============ joint ============
    ------------ south ------------        looking out of B one looks west:  left is south, right is north

A segment's left and right are along its arrow: of one whose arrow goes east, left is north.
"""

from __future__ import annotations

from itertools import product

import pytest

from layout.plans import faults, sound
from railbond.layout.model import Layout, Meeting
from trackplan.statements import Gap

EAST = {"left": "north", "right": "south"}
WEST = {"left": "south", "right": "north"}

SIDES = ("left rail", "right rail")


def cut_at_joint(plan: Layout, west: str) -> set[str]:
    """The rails, north or south, that are cut where the piece `west` meets its neighbor to the east."""
    (meeting,) = [one for one in plan.meetings if west in (one.one.piece, one.other.piece)]
    looking = EAST if meeting.one.piece == west else WEST
    return {looking[side] for side in meeting.gaps}


@pytest.mark.parametrize("west, east", list(product(("east", "west"), repeat=2)))
@pytest.mark.parametrize("named", ("a", "b", "a joint"))
@pytest.mark.parametrize("rail", SIDES)
def test_between_segments_left_and_right_are_along_the_named_arrow(west: str, east: str, named: str, rail: str) -> None:
    """Arrows `west` (of a) and `east` (of b) may agree, meet head on or part; a joint's name needs them to agree."""
    a = "segment a stop -> J 1 m" if west == "east" else "segment a J -> stop 1 m"
    b = "segment b J -> stop 1 m" if east == "east" else "segment b stop -> J 1 m"
    place = {
        "a": "a.finish" if west == "east" else "a.start",
        "b": "b.start" if east == "east" else "b.finish",
        "a joint": "J",
    }[named]
    text = f"{a}\n{b}\ngap {place} {rail}\n"
    if named == "a joint" and west != east:
        (fault,) = faults(text)
        assert "two arrows meet head on" in fault.message
        return
    arrow = east if named == "b" else west
    assert cut_at_joint(sound(text), "a") == {(EAST if arrow == "east" else WEST)[rail.split()[0]]}


FROGS = {
    # Derived from the table of rails in the design's electrics: left, right looking out of each end.
    ("left", "through"): {"frog rail": "north", "stock rail": "south"},
    ("left", "diverging"): {"stock rail": "north", "frog rail": "south"},
    ("right", "through"): {"stock rail": "north", "frog rail": "south"},
    ("right", "diverging"): {"frog rail": "north", "stock rail": "south"},
    ("wye", "left"): {"stock rail": "north", "frog rail": "south"},
    ("wye", "right"): {"frog rail": "north", "stock rail": "south"},
}


def turnout(name: str, hand: str, but: str) -> str:
    """A turnout whose ends all lie at stops, but one."""
    ends = ("points", "left", "right") if hand == "wye" else ("points", "through", "diverging")
    stops = "".join(f"joint {name}.{end} -> stop\n" for end in ends if end != but)
    return f"turnout {name} {hand} live-frog\n{stops}"


@pytest.mark.parametrize("hand, end", FROGS)
@pytest.mark.parametrize("arrow", ("east", "west"))
@pytest.mark.parametrize("joint", ("T.end", "b.end", "J"))
@pytest.mark.parametrize("rail", ("frog rail", "stock rail", *SIDES))
def test_at_a_turnout_frog_and_stock_are_its_own_and_sides_the_segments(
    hand: str, end: str, arrow: str, joint: str, rail: str
) -> None:
    """The turnout lies west of the joint, the end named looking east; a segment b lies east of it."""
    here = f"T.{end}"
    b = "segment b J -> stop 1 m\n" if arrow == "east" else "segment b stop -> J 1 m\n"
    place = {"T.end": here, "b.end": "b.start" if arrow == "east" else "b.finish", "J": "J"}[joint]
    plan = sound(f"{turnout('T', hand, end)}joint {here} -> J\n{b}gap {place} {rail}\n")
    along = EAST if arrow == "east" else WEST
    expected = FROGS[hand, end].get(rail) or along[rail.split()[0]]
    assert cut_at_joint(plan, "T") == {expected}


@pytest.mark.parametrize("arrow", ("east", "west"))
@pytest.mark.parametrize("rail", SIDES)
def test_at_points_left_and_right_are_along_the_segment(arrow: str, rail: str) -> None:
    """The turnout's points lie west of the joint and look east."""
    b = "segment b T.points -> stop 1 m\n" if arrow == "east" else "segment b stop -> T.points 1 m\n"
    plan = sound(f"{turnout('T', 'left', 'points')}{b}gap T.points {rail}\n")
    assert cut_at_joint(plan, "T") == {(EAST if arrow == "east" else WEST)[rail.split()[0]]}


@pytest.mark.parametrize("west, east", list(product(FROGS, repeat=2)))
def test_between_turnouts_each_has_a_frog_rail_of_its_own(west: tuple[str, str], east: tuple[str, str]) -> None:
    """T lies west of the joint and looks east; U lies east of it and looks west, its sides the other way."""
    pieces = f"{turnout('T', *west)}{turnout('U', *east)}joint T.{west[1]} -> U.{east[1]}\n"
    turned = {"north": "south", "south": "north"}
    for rail in ("frog rail", "stock rail"):
        assert cut_at_joint(sound(f"{pieces}gap T.{west[1]} {rail}\n"), "T") == {FROGS[west][rail]}
        assert cut_at_joint(sound(f"{pieces}gap U.{east[1]} {rail}\n"), "T") == {turned[FROGS[east][rail]]}


def test_points_that_meet_a_frog_end_take_that_turnouts_frog_rail() -> None:
    pieces = f"{turnout('T', 'left', 'through')}{turnout('U', 'left', 'points')}joint U.points -> T.through\n"
    assert cut_at_joint(sound(f"{pieces}gap U.points frog rail\n"), "T") == {"north"}


def test_both_rails_need_no_direction() -> None:
    head_on = "segment a stop -> J 1 m\nsegment b stop -> J 1 m\ngap J both rails\n"
    assert cut_at_joint(sound(head_on), "a") == {"north", "south"}


def test_a_circle_of_track_is_cut_along_its_arrow() -> None:
    """Its finish looks along the arrow, its start against it, and both are ends of one joint."""
    plan = sound("segment loop J -> J 3 m\ngap J left rail\n")
    assert sides_out_of(plan.meetings[0], "finish") == {"left"}


def sides_out_of(meeting: Meeting, end: str) -> set[str]:
    turned = {"left": "right", "right": "left"}
    return {side if meeting.one.end == end else turned[side] for side in meeting.gaps}


def test_two_gaps_make_one_joint_with_both_rails_cut() -> None:
    plan = sound(
        "segment a stop -> b.start 1 m\nsegment b a.finish -> stop 1 m\n"
        "gap a.finish left rail\ngap b.start right rail\n"
    )
    (meeting,) = plan.meetings
    assert {side: gap.place for side, gap in meeting.gaps.items()} == {"left": "a.finish", "right": "b.start"}


WITHIN = "segment a stop -> stop 1 m\n"


def test_within_a_segment_each_cut_parts_its_rail() -> None:
    """Cut left at 30 cm and both at 60 cm: three stretches on the left, two on the right."""
    plan = sound(f"{WITHIN}gap a at 60 cm both rails\ngap a at 30 cm left rail\n")
    piece = plan.pieces["a"]
    stretches = [(metal.words, metal.start, metal.stop) for metal in piece.template.metals]
    assert stretches == [
        ("left rail", 0.0, 0.3), ("left rail", 0.3, 0.6), ("left rail", 0.6, 1.0),
        ("right rail", 0.0, 0.6), ("right rail", 0.6, 1.0),
    ]  # fmt: skip
    assert [gap.offset.text for gap in piece.work if isinstance(gap, Gap) and gap.offset] == ["30 cm", "60 cm"]


def test_the_same_place_in_other_units_is_the_same_place() -> None:
    plan = sound(f"{WITHIN}gap a at 30 cm left rail\ngap a at 300 mm right rail\n")
    assert [link.offset for link in plan.pieces["a"].template.links] == [0.3]
    (fault,) = faults(f"{WITHIN}gap a at 30 cm left rail\ngap a at 300 mm both rails\n")
    assert fault.rule == "impossible" and "already cut" in fault.message
