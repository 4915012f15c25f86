"""Turntables and transfer tables against their geometry: rails as points in the plane, and which of them meet."""

from __future__ import annotations

from math import cos, dist, radians, sin

import pytest
from hypothesis import given
from hypothesis import settings as tried
from hypothesis import strategies as st

from railbond.circuit.facts import Facts
from railbond.inspection import examine
from railbond.layout.template import Template
from railbond.rules import rule

from .walking import POWER, facts_of

RADIUS, GAUGE = 100.0, 16.5
Point = tuple[float, float]


def rail_ends(angle: float) -> tuple[Point, Point]:
    """Where left and right rail of track at an angle (counted to the left) cross the pit's edge, looking outwards."""
    along, across = (cos(radians(angle)), sin(radians(angle))), (-sin(radians(angle)), cos(radians(angle)))
    middle = RADIUS * along[0], RADIUS * along[1]
    left = middle[0] + across[0] * GAUGE / 2, middle[1] + across[1] * GAUGE / 2
    return left, (2 * middle[0] - left[0], 2 * middle[1] - left[1])


def bridge_ends(head: float) -> dict[str, tuple[Point, Point]]:
    """For each rail of a bridge, looking from tail to head, where its head end and its tail end lie."""
    (left, right), (tail_left, tail_right) = rail_ends(head), rail_ends(head + 180)
    return {"bridge left rail": (left, tail_right), "bridge right rail": (right, tail_left)}


def template(text: str, name: str) -> Template:
    return facts_of(text).layout.pieces[name].template


def turntable(angles: list[float]) -> str:
    lines = [POWER + "turntable TT 30 cm"]
    for number, angle in enumerate(angles):
        lines.append(f"approach-track TT.k{number} at {angle:g} degrees")
        lines.append(f"segment s{number} TT.k{number} -> stop 40 cm")
        lines.append(f"feeder main -> s{number}{'  crossed' if angle >= 180 else ''}")
    return "\n".join(lines) + "\n"


def met(template: Template, position: str) -> set[tuple[str, str]]:
    words = [metal.words for metal in template.metals]
    return {(words[one], words[other]) for one, other, route in template.passes if route == position}


ANGLES = st.lists(st.integers(0, 35), min_size=1, max_size=5, unique=True).map(lambda n: [10.0 * one for one in n])


@given(ANGLES)
def test_the_bridge_meets_the_rails_that_lie_there(angles: list[float]) -> None:
    """Wherever the head stands, each track's rails are met by just those of the bridge's ends that lie at them."""
    found = template(turntable(angles), "TT")
    heads = {angle % 360 for one in angles for angle in (one, one + 180)}
    assert sorted(found.headings.values()) == sorted(heads) and set(found.headings) == set(found.positions)
    for position, head in found.headings.items():
        lie = {
            (rail, f"k{number} {side} rail")
            for rail, ends in bridge_ends(head).items()
            for number, angle in enumerate(angles)
            for side, point in zip(("left", "right"), rail_ends(angle), strict=True)
            if min(dist(end, point) for end in ends) < 0.1
        }
        assert met(found, position) == lie


@given(ANGLES, st.integers(0, 35))
@tried(max_examples=25)
def test_a_split_ring_suits_tracks_that_are_one_continuous_line_each(angles: list[float], at: int) -> None:
    """Fed as if each track ran straight on across the pit, a ring that is split between them opposes none of them."""
    split = 10 * at + 5
    tracks = "\n".join(
        f"approach-track TT.k{n} at {angle:g} degrees\nsegment s{n} TT.k{n} -> stop 40 cm\n"
        f"feeder main -> s{n}{'' if (angle - split) % 360 < 180 else '  crossed'}"
        for n, angle in enumerate(angles)
    )
    text = f"{POWER}turntable TT 30 cm\n{tracks}\nfeeder main -> TT.bridge  split at {split} degrees\n"
    facts = facts_of(text)
    assert not facts.shorts and not facts.opposed and not facts.proof.unproven
    assert facts_of(text.replace("bridge  split", "bridge  crossed  split")).opposed


def test_a_fixed_bridge_opposes_every_track_one_way_round() -> None:
    facts = facts_of(turntable([0, 100, 250]) + "feeder main -> TT.bridge\n")
    names = facts.graph.names
    opposed = {names[roll.other].removeprefix("TT's ") for roll, _ in facts.opposed}
    assert opposed == {f"k{n} {side} rail" for n in range(3) for side in ("left", "right")}


def mended(facts: Facts) -> Facts:
    """The plan with the first mend of one opposed pass after the other made."""
    for _ in range(12):
        told = examine(facts, [rule("opposed-at-gap")])
        if not told:
            return facts
        assert told[0].fixes, told[0].message
        facts = facts.revised(told[0].fixes[0].edits)
    raise AssertionError("the mends never end")


@given(ANGLES, st.data())
@tried(max_examples=20)
def test_every_wiring_of_a_table_can_be_mended(angles: list[float], data: st.DataObject) -> None:
    crossings = data.draw(st.lists(st.booleans(), min_size=len(angles), max_size=len(angles)))
    text = turntable(angles)
    for number, crossed in enumerate(crossings):
        text = text.replace(f"-> s{number}  crossed", f"-> s{number}")
        text = text.replace(f"main -> s{number}", f"main -> s{number}  crossed") if crossed else text
    ring = data.draw(st.sampled_from(["", "  split at 5 degrees", "  crossed  split at 95 degrees"]))
    facts = mended(facts_of(f"{text}feeder main -> TT.bridge{ring}\n"))
    assert not facts.opposed and not facts.shorts and not facts.layout.faults


def test_a_reverser_feeds_a_bridge_and_is_needed_there() -> None:
    text = turntable([0, 100]) + "reverser R1 in main\nfeeder R1 -> TT.bridge\n"
    assert not examine(facts_of(text), [rule("opposed-at-gap"), rule("reverser-idle"), rule("unfed-rail")])
    alone = text.replace("approach-track TT.k1", "# ").replace("segment s1", "# ").replace("feeder main -> s1", "# ")
    assert not examine(facts_of(alone), [rule("reverser-idle")])


TRANSFER = f"""{POWER}transfer-table TB 30 cm
approach-track TB.shop at 20 cm
approach-track TB.shed at 20 cm far-side
approach-track TB.store at 30 cm far-side
segment shop stop -> TB.shop 1 m
segment shed TB.shed -> stop 1 m
segment store TB.store -> stop 1 m
feeder main -> shop
feeder main -> shed
feeder main -> store
feeder main -> TB.bridge
"""


def test_a_transfer_table_is_straight_track_wherever_it_stands() -> None:
    """Looking from the near side to the far one, left is left all the way: so are the feeders of TRANSFER."""
    found = template(TRANSFER, "TB")
    assert found.positions == ("shop", "store") and not found.headings
    assert met(found, "shop") == {
        ("bridge right rail", "shop left rail"), ("bridge left rail", "shop right rail"),
        ("bridge left rail", "shed left rail"), ("bridge right rail", "shed right rail"),
    }  # fmt: skip
    assert met(found, "store") == {
        ("bridge left rail", "store left rail"), ("bridge right rail", "store right rail"),
    }  # fmt: skip
    assert not facts_of(TRANSFER).opposed


@pytest.mark.parametrize("segment", ["shop", "shed", "store", "TB.bridge"])
def test_a_transfer_table_with_one_pair_crossed(segment: str) -> None:
    facts = facts_of(TRANSFER.replace(f"-> {segment}\n", f"-> {segment}  crossed\n"))
    (told,) = examine(facts, [rule("opposed-at-gap")])
    assert [fix.words for fix in told.fixes] == [f"swap the two wires to {segment}"]
    assert not mended(facts).opposed


def test_many_tracks_do_not_slow_the_proof() -> None:
    """Thirty-six tracks and a split ring: one switch of so many positions, and no more ways than that."""
    tracks = [10.0 * n + 2 for n in range(18)] + [10.0 * n + 3.5 for n in range(18, 36)]
    text = turntable(tracks) + "feeder main -> TT.bridge  split at 178 degrees\n"
    facts = facts_of(text)
    bridge = facts.wiring.metal("TT", 0)
    assert len(facts.graph.positions["TT"]) == 72
    assert len(facts.proof.reachable(bridge)) == 72 and not facts.proof.unproven
    assert len(facts.graph.rolls) == 72 * 2 + 36 * 2


def test_two_reversers_meet_at_a_bridge() -> None:
    """A loop behind the table has a reverser of its own: the bridge must then be a fixed supply's."""
    text = (
        turntable([0, 100])
        + "reverser R1 in main\nreverser R2 in main\nfeeder R1 -> TT.bridge\n"
        + "approach-track TT.loop at 200 degrees\nsegment loop TT.loop -> stop 1 m\nfeeder R2 -> loop\n"
    )
    (told,) = examine(facts_of(text), [rule("reversers-meet")])
    assert told.names == ("TT", "R1", "R2")
    cured = facts_of(text).revised(told.fixes[0].edits)
    assert not examine(cured, [rule("reversers-meet"), rule("opposed-at-gap"), rule("unfed-rail")])
    assert not cured.layout.faults
