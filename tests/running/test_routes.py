"""Runs from place to place, against a search that knows no library."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import islice
from random import Random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from oracle.plans import wild_plans
from railbond.circuit.running.geometry import Leg
from railbond.circuit.running.routes import MOST_RUNS, Journeying, Place, Routes
from railbond.circuit.running.walking import WalkedTrack
from railbond.layout.model import EndAt
from running.plans import POWER, facts_of

WYE = """\
segment  yard  stop -> T1.points      90 cm
turnout  T1    left  number 6  isolated-frog
turnout  T2    left  number 6  isolated-frog
turnout  T3    left  number 6  isolated-frog
segment  a     T1.through -> T2.diverging  1 m
segment  b     T2.through -> T3.diverging  1 m
segment  c     T3.through -> T1.diverging  1 m
segment  d     T2.points -> stop  1 m
segment  e     T3.points -> stop  1 m
"""
BALLOON = """\
segment  yard  stop -> T1.points  90 cm
turnout  T1    left  number 6  isolated-frog
segment  loop  T1.through -> T1.diverging  3 m
"""


def track_of(text: str) -> WalkedTrack:
    return WalkedTrack(facts_of(text).wiring)


def at(track: WalkedTrack, piece: str) -> Place:
    return frozenset(EndAt(piece, end) for end in track.layout.pieces[piece].template.ends)


def runs(text: str, *pieces: str, turned: bool = False, reversing: bool = False, room: int = 0) -> list[Journeying]:
    track = track_of(POWER + text)
    found = Routes(track, reversing, room).runs([at(track, piece) for piece in pieces], turned)
    return list(islice(found, 4))


def over(run: Journeying) -> list[str]:
    return [leg.piece for leg in run.legs]


def test_the_way_to_a_siding_and_its_points() -> None:
    (run,) = runs(WYE, "yard", "d")
    assert over(run) == ["yard", "T1", "a", "T2", "d"]
    assert run.points == [("T1", "through"), ("T2", "diverging")]


def test_a_balloon_brings_a_train_back_the_other_way_round() -> None:
    """Either way round the loop; the points are thrown while it is in it."""
    found = runs(BALLOON, "yard", "loop", "yard", turned=True)
    assert [run.points for run in found] == [
        [("T1", "through"), ("T1", "diverging")],
        [("T1", "diverging"), ("T1", "through")],
    ]
    assert all(run.turns and not run.reversals for run in found)


def test_a_wye_turns_a_train_by_reversing_twice() -> None:
    assert not runs(WYE, "yard", "yard", turned=True)
    first = runs(WYE, "yard", "b", "yard", turned=True, reversing=True)[0]
    assert first.reversals in (("d", "e"), ("e", "d")) and first.turns


def test_a_train_longer_than_the_tail_track_does_not_reverse_there() -> None:
    assert runs(WYE, "yard", "b", "yard", turned=True, reversing=True, room=1_000_000)
    assert not runs(WYE, "yard", "b", "yard", turned=True, reversing=True, room=1_000_001)


def test_a_dead_end_cannot_be_left_without_reversing() -> None:
    assert not runs("segment a stop -> J 1 m\nsegment b J -> stop 1 m\n", "a", "b", "a")
    (run, *_) = runs("segment a stop -> J 1 m\nsegment b J -> stop 1 m\n", "a", "b", "a", reversing=True)
    assert run.reversals == ("b",) and not run.turns


def simple_runs(track: WalkedTrack, start: Leg, goal: Place) -> Iterator[tuple[Leg, ...]]:
    """Every row of ways from a way to a place, no way twice, by plain search; it ends at the first that is there."""
    waiting: list[tuple[Leg, ...]] = [(start,)]
    while waiting:
        row = waiting.pop()
        for leg in track.follow(row[-1]):
            if leg in row:
                continue
            if goal & {EndAt(leg.piece, leg.enter), EndAt(leg.piece, leg.leave)}:
                yield (*row, leg)
            else:
                waiting.append((*row, leg))


@given(wild_plans(max_turnouts=4), st.randoms(use_true_random=False))
def test_every_run_without_reversing_is_found_and_the_shortest_first(text: str, rng: Random) -> None:
    track = track_of(text)
    one, other = rng.choice(sorted(track.layout.pieces)), rng.choice(sorted(track.layout.pieces))
    if one == other:
        return
    starts = [leg for legs in track.legs.values() for leg in legs if leg.piece == one]
    rows = [row for start in starts for row in islice(simple_runs(track, start, at(track, other)), MOST_RUNS)]
    found = [run for run in Routes(track).runs([at(track, one), at(track, other)])]
    firsts = {run.legs[: _until(run.legs, other)] for run in found}
    if len(rows) < MOST_RUNS and len(found) < MOST_RUNS:
        assert firsts == set(rows)
    lengths = [run.length for run in found]
    assert lengths == sorted(lengths)


def _until(legs: tuple[Leg, ...], piece: str) -> int:
    return next(number for number, leg in enumerate(legs) if number and leg.piece == piece) + 1


@pytest.mark.parametrize("pieces", [("yard", "yard"), ("yard", "loop", "yard")])
def test_no_run_stays_where_it_is(pieces: tuple[str, ...]) -> None:
    assert all(len(run.legs) > 2 for run in runs(BALLOON, *pieces))
