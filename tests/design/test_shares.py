"""Which supply gets which track: boosters by what they are called, blocks by the track that they are named after."""

from __future__ import annotations

from random import Random

import pytest

from design.test_wiring import wired
from design.tracks import random_track
from railbond.design.wire import WiredPlan

BASEMENT = """\
plan     "Basement"
booster  line-booster  15 V  5 A
booster  yard-booster  15 V  5 A
segment  w1     stop -> T1.points          3 m
turnout  T1     left  number 8             isolated-frog
segment  w2     T1.through -> stop         9 m
segment  lead   T1.diverging -> Y1.points  2 m
turnout  Y1     left  number 6             isolated-frog
segment  yard1  Y1.through -> stop         3 m
segment  yard2  Y1.diverging -> stop       3 m
"""


@pytest.mark.parametrize("swapped", [False, True])
def test_each_booster_feeds_the_track_that_it_is_called_after(swapped: bool) -> None:
    """Whichever the plan tells first: a district `yard` that feeds the main line would mislead everybody."""
    lines = BASEMENT.splitlines(keepends=True)
    lines[1:3] = lines[2:0:-1] if swapped else lines[1:3]
    assert {"yard1": "yard", "yard2": "yard", "w2": "line"}.items() <= suppliers(wired("plan", "".join(lines))).items()


HELIX = """\
plan     "Two decks and a helix"
booster  lower  15 V  5 A
booster  upper  15 V  5 A
segment  low1   stop -> L1.points      4 m
turnout  L1     left  number 8         isolated-frog
segment  low2   L1.through -> stop     3 m
segment  helix  L1.diverging -> U1.points  24 m
turnout  U1     left  number 8         isolated-frog
segment  up1    U1.through -> stop     4 m
segment  up2    U1.diverging -> stop   3 m
"""


def test_a_piece_longer_than_half_of_the_track_keeps_no_booster_idle() -> None:
    """Both boosters feed track, parted at one end of the helix."""
    plan = wired("plan", HELIX)
    fed = suppliers(plan)
    assert not plan.left
    assert fed["low1"] == "lower-track" and fed["up1"] == "upper-track"


def test_two_boosters_that_share_tangled_track_are_both_used() -> None:
    """The track around either end of it reaches over the middle."""
    fed = suppliers(wired("plan", random_track(Random(30001), "two_boosters")))
    assert set(fed.values()) == {"bw", "be"}


def test_boosters_that_say_nothing_have_their_track_in_the_order_of_the_plan() -> None:
    text = HELIX.replace("lower", "B1   ").replace("upper", "B2   ")
    fed = suppliers(wired("plan", text))
    assert fed["low1"] == "D1" and fed["up1"] == "D2"


def suppliers(plan: WiredPlan) -> dict[str, str]:
    """For each segment with a drop where the bus to its terminal begins."""
    lines = [line.text.split() for line in plan.lines]
    runs = {words[3]: words[1] for words in lines if words[0] == "bus"}
    found = {words[3]: words[1] for words in lines if words[0] == "feeder"}
    for piece, name in found.items():
        while name in runs:
            name = runs[name]
        found[piece] = name
    return found


BLOCKS = """\
plan     "A detected siding"
segment  west    stop -> T1.points         1 m
turnout  T1      left   number 6           isolated-frog
segment  line    T1.through -> T2.through  3 m
segment  mill-1  T1.diverging -> T3.points      1 m
turnout  T3      left   number 6           isolated-frog
segment  mill-2  T3.through -> T2.diverging     1 m
segment  mill-3  T3.diverging -> stop      1 m
turnout  T2      right  number 6           isolated-frog
segment  east    T2.points -> stop         1 m
block    mill-block  in main
block    eastBlock   in main
"""


def test_a_block_gets_the_track_that_it_is_called_after() -> None:
    """Cut in both rails where it begins, the turnout between its tracks with it; the rest is its district's."""
    plan = wired("plan", BLOCKS)
    lines = [" ".join(line.text.split()) for line in plan.lines]
    gaps = {line for line in lines if line.startswith("gap")}
    assert gaps == {f"gap {end} both rails" for end in ("T1.diverging", "T2.diverging", "east.start")}
    runs = {line.split()[3]: line.split()[1] for line in lines if line.startswith("bus")}
    fed = {line.split()[3]: runs[line.split()[1]] for line in lines if line.startswith("feeder")}
    assert fed["mill-1"] == "mill-block" and fed["east"] == "eastBlock" and fed["west"] == "main"


CROSSED = """\
plan      "Two lines that cross, two boosters"
booster   B1  15 V  5 A
booster   B2  15 V  5 A
crossing  X1  30 degrees        isolated-frog
segment   n1  stop -> X1.a1     2 m
segment   n2  X1.a2 -> stop     2 m
segment   e1  stop -> X1.b1     2 m
segment   e2  X1.b2 -> stop     2 m
"""


STATION = """\
plan     "A detected station"
booster  B1       15 V  5 A
district main     from B1  trips 4 A
block    west-block     in main
block    station-block  in main
block    loop-block     in main
block    east-block     in main
segment  west     stop -> T1.points              2.5 m
turnout  T1       left   number 8                isolated-frog
segment  station  T1.through -> T2.through       2 m
segment  loop     T1.diverging -> T2.diverging   2 m
turnout  T2       right  number 8                isolated-frog
segment  east     T2.points -> stop              2.5 m
"""


def test_a_turnout_between_blocks_belongs_to_the_one_at_its_points() -> None:
    """It gets no wires of its own, and never those of a block elsewhere, whose detector would tell a train there."""
    lines = [" ".join(line.text.split()) for line in wired("plan", STATION).lines]
    gaps = {line for line in lines if line.startswith("gap")}
    assert gaps == {f"gap {name}.{way} both rails" for name in ("T1", "T2") for way in ("through", "diverging")}
    assert [line.split()[3] for line in lines if line.startswith("feeder")] == ["west", "station", "loop", "east"]


def test_the_two_tracks_over_one_frog_have_one_supply() -> None:
    """Else whatever feeds the frog ties two boosters together."""
    assert not wired("plan", CROSSED).left
