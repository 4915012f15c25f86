"""Runs over a table's bridge, and onto track without volts, as `walk` tells them."""

from __future__ import annotations

import pytest

from railbond.circuit.running.answers import running
from railbond.circuit.running.journey import Journey
from railbond.circuit.running.routes import Routes
from railbond.faces.journey import told
from railbond.layout.model import EndAt
from trackwork.walking import facts_of

POWER = "booster B1 15 V 5 A\ndistrict main from B1\n"
# A transfer table between a lead on the near side and two tracks on the far one, and a shed beside the lead.
TABLE = (
    POWER
    + """\
transfer-table TB 40 cm
approach-track TB.lead at 20 cm
approach-track TB.shed at 30 cm
approach-track TB.a at 10 cm far-side
approach-track TB.b at 20 cm far-side
segment lead stop -> TB.lead 60 cm
segment shed stop -> TB.shed 60 cm
segment a TB.a -> stop 45 cm
segment b TB.b -> stop 45 cm
feeder main -> lead
feeder main -> shed
feeder main -> TB.bridge
feeder main -> b
"""
)


def walked(text: str, one: str, other: str) -> str:
    facts = facts_of(text)
    track = running(facts).track
    ends = [frozenset(EndAt(name, end) for end in ("start", "finish")) for name in (one, other)]
    run = next(iter(Routes(track, may_reverse=True).runs(ends)))
    return told(Journey(facts, track, run), (), (one, other))


@pytest.mark.parametrize(("one", "other"), [("lead", "a"), ("a", "lead"), ("b", "a"), ("lead", "shed"), ("shed", "b")])
def test_no_short_is_told_of_a_sound_table(one: str, other: str) -> None:
    assert "short" not in walked(TABLE + "feeder main -> a\n", one, other)


@pytest.mark.parametrize(("one", "other"), [("lead", "a"), ("a", "lead"), ("b", "a"), ("a", "shed")])
def test_a_track_that_is_wired_backwards_is_a_short_both_ways(one: str, other: str) -> None:
    assert "opposite legs meet" in walked(TABLE + "feeder main -> a crossed\n", one, other)


def test_the_rails_of_the_bridge_are_those_on_either_hand_of_the_train() -> None:
    text = TABLE + "feeder main -> a\n"
    there = [line.split() for line in walked(text, "lead", "a").splitlines() if " TB " in line]
    back = [line.split() for line in walked(text, "a", "lead").splitlines() if " TB " in line]
    assert there[0][3:5] == ["main.red", "main.black"] and back[0][3:5] == ["main.black", "main.red"]


def test_a_train_stands_still_where_both_rails_carry_one_leg() -> None:
    text = POWER + "segment a stop -> J 1 m\nsegment b J -> stop 60 cm\ngap J left rail\nfeeder main -> a\n"
    assert "no volts between the rails for 60 cm" in walked(text + "feeder main.black -> b.left\n", "a", "b")
    assert "no volts" not in walked(text + "feeder main.red -> b.left\n", "a", "b")
