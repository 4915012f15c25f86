"""Every statement finds its place in the layout."""

from __future__ import annotations

import pytest

from layout.plans import POWER, SIDING, layout, sound
from railbond.layout.model import Drop, Edge, EndAt, Layout, Wire


def met(plan: Layout) -> set[frozenset[str]]:
    return {frozenset((str(one.one), str(one.other))) for one in plan.meetings}


def pair(one: str, other: str) -> frozenset[str]:
    return frozenset((one, other))


def test_a_segment_meets_what_its_words_name() -> None:
    plan = sound(SIDING)
    assert met(plan) == {
        pair("west.finish", "T1.points"), pair("middle.start", "T1.through"), pair("siding.start", "T1.diverging")
    }  # fmt: skip
    assert set(plan.stops) == {EndAt("west", "start"), EndAt("middle", "finish"), EndAt("siding", "finish")}


def test_pieces_keep_the_plans_order() -> None:
    assert list(sound(SIDING).pieces) == ["T1", "west", "middle", "siding"]


def test_a_meeting_points_at_the_statement_that_joins() -> None:
    plan = sound(SIDING)
    assert [SIDING[one.at.start : one.at.start + 12] for one in plan.meetings] == [
        "segment west", "segment midd", "segment sidi"
    ]  # fmt: skip


def test_a_free_name_joins_two_ends_and_names_the_joint() -> None:
    (meeting,) = sound("segment a stop -> J 1 m\nsegment b J -> stop 1 m\n").meetings
    assert (meeting.one, meeting.other, meeting.name) == (EndAt("a", "finish"), EndAt("b", "start"), "J")


@pytest.mark.parametrize(
    "text",
    [
        "segment a stop -> b.start 1 m\nsegment b a.finish -> stop 1 m\n",
        "segment a stop -> b.start 1 m\nsegment b a.finish -> stop 1 m\njoint b.start -> a.finish\n",
        "segment a stop -> J 1 m\nsegment b J -> stop 1 m\njoint J -> a.finish\n",
    ],
)
def test_a_meeting_told_again_counts_once(text: str) -> None:
    plan = sound(text)
    assert met(plan) == {pair("a.finish", "b.start")} and len(plan.meetings) == 1


def test_joints_glue_turnouts_without_a_segment() -> None:
    text = "turnout T left live-frog\nturnout U wye dead-frog\njoint T.points -> U.left\n"
    text += "".join(f"joint {end} -> stop\n" for end in ("T.through", "T.diverging", "U.points", "U.right"))
    plan = sound(text)
    assert met(plan) == {pair("T.points", "U.left")}
    assert len(plan.stops) == 4 and len(plan.joints) == 5


def test_a_track_may_end_at_a_stop_told_twice() -> None:
    assert sound("segment a stop -> stop 1 m\njoint a.start -> stop\n").stops == [
        EndAt("a", "start"), EndAt("a", "finish")
    ]  # fmt: skip


def test_an_endplate_is_reached_by_an_end() -> None:
    turnout = "turnout T left dead-frog\njoint T.through -> stop\njoint T.diverging -> stop\n"
    plan = sound(f"endplate W\nsegment a W -> stop 1 m\nendplate E\n{turnout}joint E -> T.points\n")
    assert {name: edge.end for name, edge in plan.edges.items()} == {
        "W": EndAt("a", "start"), "E": EndAt("T", "points")
    }  # fmt: skip
    assert EndAt("a", "start") not in plan.stops and plan.meetings == []


def test_a_pair_of_drops_goes_to_the_middle_unless_told() -> None:
    plan = sound(f"{POWER}segment a stop -> stop 1 m\nfeeder P1 -> a\nfeeder P1 -> a at 20 cm crossed\n")
    assert drops(plan) == [
        ("P1.0", "left", 0.5), ("P1.1", "right", 0.5), ("P1.1", "left", 0.2), ("P1.0", "right", 0.2)
    ]  # fmt: skip


def drops(plan: Layout) -> list[tuple[str, str, float | None]]:
    """Each drop's wire, the words of its metal and its place."""
    return [
        (f"{one.wire.name}.{one.wire.leg}", words(plan, one).removesuffix(" rail"), one.place) for one in plan.drops
    ]


def words(plan: Layout, drop: Drop) -> str:
    return plan.pieces[drop.piece].template.metals[drop.metal].words


@pytest.mark.parametrize(
    "rail, metal",
    [
        ("T1.through.stock", "through stock rail"),
        ("T1.through.frog", "through frog rail"),
        ("T1.diverging.stock", "diverging stock rail"),
        ("T1.diverging.frog", "diverging frog rail"),
        ("west.left", "left rail"),
        ("west.right", "right rail"),
    ],
)
def test_one_wire_goes_to_one_rail(rail: str, metal: str) -> None:
    plan = sound(f"{POWER}{SIDING}feeder P1.black -> {rail}\n")
    (drop,) = plan.drops
    assert (drop.wire, words(plan, drop)) == (Wire("P1", 1), metal)


@pytest.mark.parametrize("place, left, right", [("10 cm", 0, 3), ("40 cm", 1, 3), ("70 cm", 2, 4), ("1 m", 2, 4)])
def test_a_feeder_goes_to_the_stretch_at_its_place(place: str, left: int, right: int) -> None:
    """The left rail is cut at 30 and 60 cm, metals 0 to 2; the right at 60 cm, metals 3 and 4."""
    cuts = "gap a at 60 cm both rails\ngap a at 30 cm left rail\n"
    plan = sound(f"{POWER}segment a stop -> stop 1 m\n{cuts}feeder P1 -> a at {place}\n")
    assert [drop.metal for drop in plan.drops] == [left, right]


def test_supplies_with_their_legs_and_what_they_are_behind() -> None:
    plan = sound(
        "block yard in main\nreverser loop in main\ndistrict main from B1 legs blue white\nbooster B1 15 V 5 A\n"
    )
    told = [(one.name, one.kind, one.legs, one.district, one.booster) for one in plan.supplies.values()]
    assert told == [
        ("yard", "block", ("blue", "white"), "main", "B1"),
        ("loop", "reverser", ("blue", "white"), "main", "B1"),
        ("main", "district", ("blue", "white"), "main", "B1"),
    ]
    assert list(plan.boosters) == ["B1"]


@pytest.mark.parametrize("hand, positions", [("left", ("through", "diverging")), ("wye", ("left", "right"))])
def test_switched_frogs_have_a_wire_for_each_position(hand: str, positions: tuple[str, str]) -> None:
    pieces = f"turnout T {hand} live-frog\n" + "".join(f"joint T.{end} -> stop\n" for end in ("points", *positions))
    plan = sound(f"{POWER}{pieces}frog T switched through P1.red diverging P1.black\n")
    assert plan.frogs["T"].contacts == {0: Wire("P1", 0), 1: Wire("P1", 1)}
    assert plan.pieces["T"].template.frogs[0].legs == {positions[0]: 0, positions[1]: 1}


def test_contacts_can_be_moved_by_another_turnout() -> None:
    wye = "turnout Y wye dead-frog\n" + "".join(f"joint Y.{end} -> stop\n" for end in ("points", "left", "right"))
    plan = sound(f"{POWER}{SIDING}{wye}frog T1 switched with Y through P1.red diverging P1.black\n")
    assert plan.frogs["T1"].mover == "Y"
    assert plan.frogs["T1"].contacts == {0: Wire("P1", 0), 1: Wire("P1", 1)}


@pytest.mark.parametrize(
    "line, kind",
    [
        ("switched from stock rails", "stock rails"),
        ("automatic P1", "automatic"),
        ('unpowered because "x"', "unpowered"),
    ],
)
def test_other_frog_feeds(line: str, kind: str) -> None:
    feed = sound(f"{POWER}{SIDING}frog T1 {line}\n").frogs["T1"]
    assert (feed.piece, feed.kind) == ("T1", kind)
    assert feed.supply == ("P1" if kind == "automatic" else None)


def test_a_frog_left_unpowered_may_be_of_plastic() -> None:
    dead = SIDING.replace("live-frog", "dead-frog")
    assert sound(f'{dead}frog T1 unpowered because "plastic"\n').frogs["T1"].kind == "unpowered"


def test_turnout_work_is_in_the_template() -> None:
    plan = sound(f"{SIDING}bond T1 closure rails to stock rails\ncut T1 closure jumpers\n")
    piece = plan.pieces["T1"]
    assert [type(one).__name__ for one in piece.work] == ["ClosureBond", "Cut"]
    assert {tie.kind for tie in piece.template.ties} == {"build", "touch", "bond"}


def test_running_limits_and_judgment_are_kept() -> None:
    plan = sound(
        f"{POWER}{SIDING}scale HO\nengine e left 0 30 mm right 0 30 mm 0.4 A\ntrain T1 2 m\n"
        'limit voltage-drop 5 %\naccept unfed-rail at T1.through because "x"\naccept stalls at e because "y"\n'
    )
    assert [engine.name for engine in plan.engines] == ["e"]
    assert [train.name for train in plan.trains] == ["T1"], "trains have a name space of their own"
    assert plan.limits["voltage-drop"].value == pytest.approx(0.05)
    assert [accept.place for accept in plan.acceptances] == ["T1.through", "e"]
    assert plan.scale == "HO"


@pytest.mark.parametrize("word, left", [("red", 0), ("black", 1)])
def test_an_endplates_leg_is_the_first_or_the_second(word: str, left: int) -> None:
    plan = sound(f"{POWER}endplate W left {word}\nsegment a W -> stop 1 m\n")
    assert plan.edges["W"] == Edge("W", EndAt("a", "start"), left, plan.edges["W"].statement)


def test_with_a_prefix_every_name_is_whole() -> None:
    text = f"{POWER}{SIDING}segment e W -> J 1 m\nsegment f J -> stop 1 m\nendplate W\nfeeder P1 -> west\n"
    text += "frog T1 switched through P1.red diverging P1.black\n"
    text += "feeder P1.red -> T1.through.frog\ngap T1.through frog rail\n"
    plan = layout(text, prefix="quarry.")
    assert plan.faults == []
    assert set(plan.pieces) == {f"quarry.{name}" for name in ("T1", "west", "middle", "siding", "e", "f")}
    assert pair("quarry.west.finish", "quarry.T1.points") in met(plan)
    assert [one.name for one in plan.meetings if one.name] == ["quarry.J"]
    assert (plan.runs[0].source, plan.runs[0].terminal) == ("quarry.main", "quarry.P1")
    assert plan.edges["quarry.W"].end == EndAt("quarry.e", "start")
    assert plan.supplies["quarry.main"].booster == "quarry.B1"
    assert {drop.wire.name for drop in plan.drops} == {"quarry.P1"}
    assert sum(len(one.gaps) for one in plan.meetings) == 1


def test_names_of_modules_are_left_to_the_meet() -> None:
    plan = layout(
        'module quarry "q.trackplan"\nmodule loop "l.trackplan"\ncouple quarry.E -> loop.W\nbus quarry.P2 -> P9\n'
    )
    assert plan.faults == []
