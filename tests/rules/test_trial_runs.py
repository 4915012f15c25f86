"""What a practitioner met at the first try: each was told wrongly once."""

from __future__ import annotations

from railbond.circuit.facts import Facts
from railbond.inspection import examine
from railbond.rules import all_rules
from trackplan.read import read
from trackplan.span import Source

HEAD = "scale HO\nbooster B1 15 V 5 A\ndistrict main from B1 trips 4 A\n"
BALLOON = """\
reverser R1 in main trips 2 A
turnout T1 left number 6 live-frog
segment lead stop -> T1.points 1 m
segment loop T1.through -> T1.diverging 3 m
gap T1.through both rails
gap T1.diverging both rails
feeder main -> lead
feeder R1 -> loop
"""
SHORT_LOOP = """\
turnout T1 left isolated-frog
segment lead stop -> T1.points 1 m
segment loop T1.through -> T1.diverging 80 cm
frog T1 switched from stock rails
feeder main -> lead
feeder main -> loop
train longest 1 m
"""
WYE = """\
reverser R1 in main trips 2 A
turnout A left number 6 isolated-frog
turnout B right number 6 isolated-frog
turnout C wye number 6 isolated-frog
frog A switched from stock rails
frog B switched from stock rails
frog C switched from stock rails
segment west stop -> A.points 1 m
segment top A.through -> B.through 1 m
segment east B.points -> stop 1 m
segment legw A.diverging -> C.left 1 m
segment lege B.diverging -> C.right 1 m
segment tail C.points -> stop 1.5 m
gap A.diverging both rails
gap B.diverging both rails
feeder R1 -> tail
feeder main -> west
feeder main -> top
feeder main -> east
train longest 1 m
"""


def told(text: str) -> set[str]:
    source = Source("plan.trackplan", text)
    reading = read(source)
    facts = Facts(reading.statements, {source.path: source}, reading.broken)
    return {one.rule for one in examine(facts, all_rules())}


def test_a_live_frog_before_a_reverser_shorts_a_train_against_its_points() -> None:
    """With the points against it both rails of the frog's end are one leg, and no polarity of the reverser suits."""
    assert "set-against" in told(HEAD + BALLOON)
    cured = BALLOON + "cut T1 around frog\nbond T1 closure rails to stock rails\nfrog T1 automatic main\n"
    assert "set-against" not in told(HEAD + cured)


def test_nothing_is_said_of_a_reverser_that_only_the_mend_would_bring() -> None:
    assert told(HEAD + SHORT_LOOP) - {"set-against"} == {"reversing-without-reverser"}


def test_tail_and_legs_of_a_wye_are_one_section() -> None:
    assert told(HEAD + WYE) <= {"feeders-too-far-apart", "set-against"}


def test_track_drawn_before_any_supply() -> None:
    assert told("segment a stop -> stop 1 m\n") == {"unfed-rail"}
    assert told("endplate W left red\nsegment l W -> stop 1 m\n") == {"endplate-unfed"}


def test_a_turntable_without_tracks_is_told() -> None:
    assert "unknown-name" in told(HEAD + "turntable TT 30 cm\nsegment s TT.one -> stop 1 m\nfeeder main -> s\n")


def test_a_gap_further_out_than_the_frog_rail_has_its_mend() -> None:
    """The rail up to the gap changes with the points like the frog: the turnout is rebuilt, or the gap moved."""
    text = HEAD + BALLOON.split("segment loop")[0].replace("reverser R1 in main trips 2 A\n", "")
    text += "segment line T1.through -> stop 1 m\nsegment spur T1.diverging -> stop 1 m\nfeeder main -> lead\n"
    for name in ("line", "spur"):
        text += f"gap {name} at 10 cm both rails\nfeeder main -> {name} at 50 cm\n"
    source = Source("plan.trackplan", text)
    reading = read(source)
    found = examine(Facts(reading.statements, {source.path: source}, reading.broken), all_rules())
    assert [one for one in found if one.rule == "opposed-at-gap" and one.fixes]
