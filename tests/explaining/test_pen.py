"""Slips of the pen, cuts in the wrong rail, runs at another supply: each row a sound plan, the slip, and nothing else
told than the one finding whose first mend writes the sound plan again."""

from __future__ import annotations

import pytest

from explaining.test_explaining import YARD, bad, mended

BLOCKS = """\
plan     "Two detected blocks on a common rail"
booster  B1    15 V  5 A
district main  from B1  trips 4 A
block    b1    in main
block    b2    in main
common   black of main b1 b2
bus      b1 -> X1  1 m  14 AWG
bus      b2 -> X2  2 m  14 AWG
segment  one   stop -> J  1.5 m
segment  two   J -> K     1.5 m
segment  last  K -> stop  1.5 m
gap      J     left rail
gap      K     left rail
feeder   X1 -> one   22 AWG  20 cm
feeder   X2 -> two   22 AWG  20 cm
feeder   X1 -> last  22 AWG  20 cm
"""
LOOPS = """\
plan     "Two balloon loops, a reverser for each"
booster  B1    15 V  5 A
district main  from B1  trips 4 A
reverser rev-n in main
reverser rev-s in main
bus      rev-n -> loop-n  2 m  14 AWG
bus      rev-s -> loop-s  2 m  14 AWG
segment  line  N.points -> S.points        3 m
turnout  N     left  number 6  dead-frog
turnout  S     left  number 6  dead-frog
segment  north N.through -> N.diverging    3 m
segment  south S.through -> S.diverging    3 m
gap      N.through    both rails
gap      N.diverging  both rails
gap      S.through    both rails
gap      S.diverging  both rails
bond     N     closure rails to stock rails
bond     S     closure rails to stock rails
feeder   main -> line    at 80 cm
feeder   main -> line    at 2.2 m
feeder   loop-n -> north at 1.5 m
feeder   loop-s -> south at 1.5 m
train    local  1.2 m
"""
TABLE = """\
plan     "Transfer table in a shop"
booster  B1    15 V  5 A
district shop  from B1  trips 4 A
transfer-table  TB       60 cm
approach-track  TB.lead  at 30 cm
approach-track  TB.wash  at 50 cm
approach-track  TB.bay   at 30 cm  far-side
segment  lead  stop -> TB.lead  1 m
segment  wash  stop -> TB.wash  1 m
segment  bay   TB.bay -> stop   1 m
feeder   shop -> lead
feeder   shop -> bay
feeder   shop -> wash
feeder   shop -> TB.bridge
"""
LONG = """\
booster  B1    15 V  5 A
district main  from B1  trips 4 A
segment  line  stop -> stop 500 cm
feeder   main -> line at 50 cm
feeder   main -> line at 2.5 m
feeder   main -> line at 4.5 m
"""
SINGLES = """\
booster  B1    15 V  5 A
district main  from B1  trips 4 A  legs red black
segment  one   stop -> J  2 m
segment  two   J -> stop  2 m
gap      J     both rails
feeder   main.red -> one.left    22 AWG  20 cm
feeder   main.black -> one.right 22 AWG  20 cm
feeder   main.red -> two.left    22 AWG  20 cm
feeder   main.black -> two.right 22 AWG  20 cm
"""
SLIPS = {
    "a district's leg, as two wires call it": (SINGLES, "legs red black", "legs red blak"),
    "a district's leg of another word": (SINGLES, "legs red black", "legs red blue"),
    "another unit": (YARD, "90 cm\nsegment  three", "90 m\nsegment  three"),
    "no unit, as in other lines": (YARD, "T1.diverging -> Y     90 cm", "T1.diverging -> Y     90"),
    "the unit of something else": (YARD, "trips 4 A", "trips 4 V"),
    "degrees along a pit": (TABLE, "TB.bay   at 30 cm", "TB.bay   at 30 degrees"),
    "a length that is no place": (YARD, "one    at 30 cm", "one    at 30 m"),
    "a drop of meters": (BLOCKS, "X1 -> one   22 AWG  20 cm", "X1 -> one   22 AWG  20 m"),
    "a zero too many": (YARD, "trips 3 A", "trips 30 A"),
    "a point forgotten, as another line shows": (LOOPS, "loop-s -> south at 1.5 m", "loop-s -> south at 15 m"),
    "a zero forgotten, as two drops show": (LONG, "stop 500 cm", "stop 50 cm"),
    "a point before all of it, as two drops show": (LONG.replace("500 cm", "5 m"), "stop 5 m", "stop 0.5 m"),
    "feet for meters, as two drops show": (LONG.replace("500 cm", "5 m"), "stop 5 m", "stop 5 ft"),
    "an end named twice": (LOOPS, "N.through -> N.diverging    3 m", "N.through -> N.through    3 m"),
    "a leg named twice": (YARD, "segment  lead  T1.diverging -> Y", "segment  lead  T1.through -> Y"),
    "a terminal one letter off": (YARD, "feeder   P2 -> line", "feeder   PP2 -> line"),
    "a segment one letter off": (YARD, "Y1 -> three", "Y1 -> thre"),
    "a block's name one letter off": (BLOCKS, "bus      b2 -> X2", "bus      b22 -> X2"),
    "the other rail was cut": (BLOCKS, "gap      K     left rail", "gap      K     right rail"),
    "a cut within the segment": (BLOCKS, "gap      K     left rail", "gap      two at 1.4 m  left rail"),
    "a cut of a common rail's block forgotten": (BLOCKS, "gap      K     left rail\n", ""),
    "a run from the other reverser": (LOOPS, "rev-s -> loop-s", "rev-n -> loop-s"),
    "a drop at a table forgotten": (TABLE, "feeder   shop -> wash\n", ""),
    "a block's drop forgotten": (BLOCKS, "feeder   X2 -> two   22 AWG  20 cm\n", ""),
    "a bridge without its wire": (TABLE, "feeder   shop -> TB.bridge\n", ""),
}  # fmt: skip


@pytest.mark.parametrize("text", [BLOCKS, LOOPS, TABLE, LONG, SINGLES])
def test_the_plans_are_sound(text: str) -> None:
    assert bad(text) == []


def lines(text: str) -> list[str]:
    """The lines of a text, however they are spaced and ordered."""
    return sorted(" ".join(line.split()) for line in text.splitlines())


@pytest.mark.parametrize("name", SLIPS)
def test_the_first_mend_writes_what_was_meant(name: str) -> None:
    sound, right, wrong = SLIPS[name]
    faulty = sound.replace(right, wrong)
    assert faulty != sound
    found = bad(faulty)
    assert len(found) == 1, [one.message for one in found]
    words = [line.replace("gap K left rail", "gap two.finish left rail") for line in lines(sound)]
    assert lines(mended(faulty, found[0])) in (lines(sound), words)


def test_what_a_mend_brings_is_told_under_it() -> None:
    """The gap that parts two supplies leaves a section shorter than the train: found only once it is made."""
    from mend.holding import Plans

    faulty = LOOPS.replace("feeder   loop-s -> south at 1.5 m\n", "")
    told = Plans(faulty + "feeder main -> south at 1.5 m\nfeeder loop-s -> south at 2.9 m\n").proven().findings
    fixes = [fix for one in told for fix in one.fixes if fix.words.startswith("gap both rails")]
    assert fixes
    assert all("reverser-short-of-train" in " ".join(fix.then) for fix in fixes)


def test_a_gauge_has_no_digit_too_many() -> None:
    """A drop of 10 AWG is of an unusual size, and one of 1 AWG ten times as thick, not a slip of it."""
    from railbond.circuit.facts import Facts
    from railbond.explaining.words import unit_slips
    from trackplan.gather import gather

    read = gather("plan", lambda _: BLOCKS.replace("X1 -> one   22 AWG  20 cm", "X1 -> one   10 AWG  20 m"))
    facts = Facts(read.statements, read.sources, read.broken)
    drop = next(one for one in facts.statements if "10 AWG" in [getattr(part, "text", "") for part in one])
    said = {slip.words for slip in unit_slips(facts, drop)}
    assert "write `20 cm` for `20 m`" in said
    assert not [one for one in said if "AWG" in one]
