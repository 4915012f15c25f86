"""Crossings, slips, three-way turnouts, points held by a spring, and tables, under wheels."""

from __future__ import annotations

from itertools import pairwise
from math import radians, sin

import pytest

from railbond.circuit.running.geometry import Leg, Rail
from railbond.circuit.running.routes import Routes
from railbond.circuit.running.walking import WalkedTrack
from railbond.layout.model import EndAt
from running.plans import POWER, facts_of, mended, running_of, told

GAUGE = 0.649 * 25_400
"""HO, NMRA S-3.2."""


def legs(line: str) -> dict[tuple[str, str], Leg]:
    """The ways over a piece X that meets nothing, by its ends."""
    facts = facts_of(POWER + line + "\n")
    return {(one.enter, one.leave): one for some in WalkedTrack(facts.wiring).legs.values() for one in some}


def frogs(line: str, rail: Rail) -> list[tuple[int, int]]:
    metals = facts_of(POWER + line + "\n").layout.pieces["X"].template.metals
    return [(one.start, one.stop) for one in rail if one.metal is None or metals[one.metal].frog]


@pytest.fixture(autouse=True)
def loose_ends_are_no_fault(monkeypatch: pytest.MonkeyPatch) -> None:
    """Here a piece may lie by itself."""
    monkeypatch.setattr("railbond.layout.build.tell_loose", lambda *_: None)


KINDS = (
    "crossing X 25 degrees dead-frog", "crossing X 90 degrees isolated-frog", "slip X double number 6 isolated-frog",
    "slip X single number 6 dead-frog", "three-way X symmetrical number 5 isolated-frog",
    "three-way X staggered left dead-frog", "stub X left number 6 dead-frog", "turnout X left movable-frog",
)  # fmt: skip


@pytest.mark.parametrize("line", KINDS)
def test_rails_are_whole_from_end_to_end(line: str) -> None:
    found = legs(line)
    assert found
    for (enter, leave), one in found.items():
        assert found[leave, enter] == one.turned()
        for rail in (one.left, one.right):
            assert rail[0].start == 0 and rail[-1].stop == one.length
            assert all(here.stop == there.start for here, there in pairwise(rail))


@pytest.mark.parametrize("angle", [15, 30, 60, 90])
def test_a_rail_crosses_both_rails_of_the_other_track_a_gauge_over_the_sine_apart(angle: int) -> None:
    """The lines of two rails of one track are a gauge apart, so another line cuts them that far apart (geometry)."""
    line = f"crossing X {angle} degrees dead-frog dead 2 mm"
    for ends in (("a1", "a2"), ("b1", "b2"), ("a2", "a1")):
        for rail in (legs(line)[ends].left, legs(line)[ends].right):
            (one, other) = frogs(line, rail)
            apart = (sum(other) - sum(one)) / 2
            # An acute frog's point is a third of its dead length from one edge, not in the middle of it.
            assert apart == pytest.approx(GAUGE / sin(radians(angle)), abs=700)


def test_which_frog_comes_first_on_which_rail() -> None:
    """Looking from the ends 1, the acute frog comes first on track a's left rail and on track b's right one."""
    line = "crossing X 30 degrees isolated-frog"
    found = legs(line)
    middle = found["a1", "a2"].length / 2
    first = {
        (track, side): frogs(line, getattr(found[f"{track}1", f"{track}2"], side))[0][1] < middle
        for track in "ab"
        for side in ("left", "right")
    }
    assert first == {("a", "left"): True, ("a", "right"): False, ("b", "left"): False, ("b", "right"): True}


def test_a_slips_curve_has_both_frogs_on_its_inner_rail() -> None:
    line = "slip X double number 6 isolated-frog"
    found = legs(line)
    assert [len(frogs(line, rail)) for rail in (found["a1", "b2"].left, found["a1", "b2"].right)] == [2, 0]
    assert [len(frogs(line, rail)) for rail in (found["b1", "a2"].left, found["b1", "a2"].right)] == [0, 2]
    assert ("a1", "b1") not in found


def test_a_three_way_turnout_has_two_frogs_on_an_outer_route() -> None:
    line = "three-way X symmetrical number 6 isolated-frog"
    found = legs(line)
    ways = {end: leg for (enter, end), leg in found.items() if enter == "points"}
    counts = {end: [len(frogs(line, rail)) for rail in (leg.left, leg.right)] for end, leg in ways.items()}
    assert counts == {"left": [0, 2], "through": [1, 1], "right": [2, 0]}


def test_sprung_points_are_faced_for_one_route_and_trailed_from_both() -> None:
    found = legs("turnout X left isolated-frog sprung through")
    assert set(found) == {("points", "through"), ("through", "points"), ("diverging", "points")}


CROSSING = """\
crossing X  25 degrees  dead-frog  dead 20 mm
segment  a stop -> X.a1  1 m
segment  b stop -> X.b1  1 m
segment  c X.a2 -> stop  1 m
segment  d X.b2 -> stop  1 m
feeder   main -> a
feeder   main -> b
feeder   main -> c
feeder   main -> d
engine   e  left 0 {} mm  right 0 {} mm  0.3 A
"""


def test_two_frogs_close_together_stop_an_engine_that_bridges_either() -> None:
    """Two wheels a side 39 mm apart, as far as the frogs: longer than each, and both on dead frogs at once."""
    apart = round(GAUGE / sin(radians(25)) / 1000)
    assert not told(POWER + CROSSING.format(70, 70), "stalls")
    (finding,) = told(POWER + CROSSING.format(apart, apart), "stalls")
    assert finding.names == ("X", "e")
    after = mended(POWER + CROSSING.format(apart, apart), finding)
    assert "frog X  automatic main" in after and not told(after, "stalls")


TABLE = """\
turntable       TT  30 cm
approach-track  TT.lead   at 0 degrees
approach-track  TT.stall  at 40 degrees
segment  yard   stop -> TT.lead   1 m
segment  shed   stop -> TT.stall  50 cm
"""


def runs(pieces: list[str], turned: bool, room: int = 0) -> list[list[str]]:
    track = running_of(POWER + TABLE).track
    places = [frozenset(EndAt(one, end) for end in track.layout.pieces[one].template.ends) for one in pieces]
    return [[leg.piece for leg in run.legs] for run in Routes(track, False, room).runs(places, turned)]


def test_a_turntable_turns_an_engine() -> None:
    assert runs(["yard", "TT", "yard"], turned=True)[0] == ["yard", "TT", "yard"]
    assert runs(["yard", "shed"], turned=False)[0] == ["yard", "TT", "shed"]


def test_what_is_longer_than_the_bridge_does_not_go_over_it() -> None:
    assert runs(["yard", "shed"], turned=False, room=300_000)
    assert not runs(["yard", "shed"], turned=False, room=300_001)
