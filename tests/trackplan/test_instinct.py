"""What people type before they have read anything is understood, or answered with the line to write."""

from __future__ import annotations

from random import Random

import pytest

from trackplan.make import Senseless
from trackplan.mistakes.filled import filled_in
from trackplan.parse import Unexpected, parse, reads
from trackplan.read import read
from trackplan.span import Source

# As typed, and as it must be offered to be written.
TYPED = [
    ("turnout T1 left #5 live-frog", "turnout T1 left number 5 live-frog"),
    ("turnout T1 left # 5 live-frog", "turnout T1 left number 5 live-frog"),
    ("turnout T1 left No. 5 live-frog", "turnout T1 left number 5 live-frog"),
    ("turnout T1 left no 5 live-frog", "turnout T1 left number 5 live-frog"),
    ("turnout T1 left nr.5 live-frog", "turnout T1 left number 5 live-frog"),
    ("turnout T1 left 5 live-frog", "turnout T1 left number 5 live-frog"),
    ('segment west W -> T1.points 36"', "segment west W -> T1.points 36 in"),
    ("segment west W -> T1.points 3'6\"", "segment west W -> T1.points 3 ft 6 in"),
    ("segment west W -> T1.points 3.5'", "segment west W -> T1.points 3.5 ft"),
    ("bus main -> P1 3 m 12ga", "bus main -> P1 3 m 12 AWG"),
    ("bus main -> P1 10' 12ga", "bus main -> P1 10 ft 12 AWG"),
    ("segment siding T1 diverging -> T2 diverging 2.4 m", "segment siding T1.diverging -> T2.diverging 2.4 m"),
    ("feeder P1 red -> west left", "feeder P1.red -> west.left"),
    ("turnout T1, left, number 5, live-frog", "turnout T1  left  number 5  live-frog"),
    ("booster B1, 15 V, 5 A", "booster B1  15 V  5 A"),
    ("Turnout T1 Left Number 5 Live-Frog", "turnout T1 left number 5 live-frog"),
    ("SEGMENT west W -> T1.points 90 CM", "segment west W -> T1.points 90 cm"),
    ("feeder main west", "feeder main -> west"),
    ("frog T1 through P1.red diverging P1.black", "frog T1 switched through P1.red diverging P1.black"),
    ("booster B1 15v 5a", "booster B1 15 V 5 A"),
    ("segment west stop to T1.points 90cm", "segment west stop -> T1.points 90cm"),
    ("turnout T1 lh #6 live-frog", "turnout T1 left number 6 live-frog"),
    ("turnout T1 left-hand number 6 live frog", "turnout T1 left number 6 live-frog"),
    ("gap T1.diverging both", "gap T1.diverging both rails"),
    ("bond T1", "bond T1 closure rails to stock rails"),
    ("wire main -> west", "feeder main -> west"),
    ("switch T1 left number 6 live-frog", "turnout T1 left number 6 live-frog"),
    ("plan Mill siding", 'plan "Mill siding"'),
    ('plan: "Mill"', 'plan "Mill"'),
    ("Scale HO", "scale HO"),
    ("scale: HO", "scale HO"),
    ("scale 1:87", "scale HO"),
    ("booster B1 15V, 5A", "booster B1 15V  5A"),
    ("booster B1 15 volts 5 amps", "booster B1 15 V 5 A"),
    ("booster B1 5 A 15 V", "booster B1 15 V 5 A"),
    ("booster B1 15V 5Amp", "booster B1 15V 5 A"),
    ("district main B1 trips 4 A", "district main from B1 trips 4 A"),
    ("district main from B1 4 A", "district main from B1 trips 4 A"),
    ("district main from B1, trips 4 A, legs red, black", "district main from B1  trips 4 A  legs red  black"),
    ("district main from B1 trip 4 A", "district main from B1 trips 4 A"),
    ("district main on B1", "district main from B1"),
    ("block yard main", "block yard in main"),
    ("reverser R1 main", "reverser R1 in main"),
    ("reverser R1 from main", "reverser R1 in main"),
    ("segment west: W -> T1.points 90 cm", "segment west W -> T1.points 90 cm"),
    ("segment west W to T1.points 90 cm", "segment west W -> T1.points 90 cm"),
    ("segment west W - T1.points 90 cm", "segment west W -> T1.points 90 cm"),
    ("segment west W => T1.points 90 cm", "segment west W -> T1.points 90 cm"),
    ("segment west W –> T1.points 90 cm", "segment west W -> T1.points 90 cm"),
    ("segment west W → T1.points 90 cm", "segment west W -> T1.points 90 cm"),
    ("segment west W T1.points 90 cm", "segment west W -> T1.points 90 cm"),
    ("segment west W -> T1 points 90cm", "segment west W -> T1.points 90cm"),
    ("segment west W -> T1.points 90 cm long", "segment west W -> T1.points 90 cm"),
    ("segment west W -> T1.points length 90 cm", "segment west W -> T1.points 90 cm"),
    ("segment west from W to T1.points 90 cm", "segment west W -> T1.points 90 cm"),
    ("segment west W -> T1.points 3 feet", "segment west W -> T1.points 3 ft"),
    ("segment west W -> T1.points 3 ft. 6 in.", "segment west W -> T1.points 3 ft 6 in"),
    ("segment west W -> T1.points 3' 6\"", "segment west W -> T1.points 3 ft 6 in"),
    ("segment west W -> T1.points 3 1/2 ft", "segment west W -> T1.points 3.5 ft"),
    ("segment west W -> T1.points 36 inches", "segment west W -> T1.points 36 in"),
    ("segment west W -> T1.points 36in.", "segment west W -> T1.points 36in"),
    ("segment west W -> T1.points 36''", "segment west W -> T1.points 36 in"),
    ("segment west W -> T1.points 1,5 m", "segment west W -> T1.points 1.5 m"),
    ("segment west W -> T1.points 1 yard", "segment west W -> T1.points 3 ft"),
    ("segment west W -> T1.points .9 m", "segment west W -> T1.points 0.9 m"),
    ("segment west W -> T1.points 90cm code83", "segment west W -> T1.points 90cm code 83"),
    ("segment west W -> T1.points 90 cm code #83", "segment west W -> T1.points 90 cm code 83"),
    ("segment 1 W -> T1.points 90 cm", "segment S1 W -> T1.points 90 cm"),
    ("track west W -> T1.points 90 cm", "segment west W -> T1.points 90 cm"),
    ("line west W -> T1.points 90 cm", "segment west W -> T1.points 90 cm"),
    ("siding west W -> T1.points 90 cm", "segment west W -> T1.points 90 cm"),
    ("turnout T1 #6 left live-frog", "turnout T1 left number 6 live-frog"),
    ("turnout T1 left no6 live-frog", "turnout T1 left number 6 live-frog"),
    ("turnout T1 left No.6 live-frog", "turnout T1 left number 6 live-frog"),
    ("turnout T1 left number6 live-frog", "turnout T1 left number 6 live-frog"),
    ("turnout T1 left number #6 live-frog", "turnout T1 left number 6 live-frog"),
    ("turnout T1 left 6 live-frog", "turnout T1 left number 6 live-frog"),
    ("turnout T1 number 6 left live-frog", "turnout T1 left number 6 live-frog"),
    ("turnout T1 left live-frog number 6", "turnout T1 left number 6 live-frog"),
    ("turnout T1 LH number 6 live frog", "turnout T1 left number 6 live-frog"),
    ("turnout T1 left hand number 6 live frog", "turnout T1 left number 6 live-frog"),
    ("turnout T1 left number 6 live", "turnout T1 left number 6 live-frog"),
    ("turnout T1 left number 6 isolated frog", "turnout T1 left number 6 isolated-frog"),
    ("turnout T1 left number 6 Isolated-Frog", "turnout T1 left number 6 isolated-frog"),
    ("turnout T1 left number 6 isolated_frog", "turnout T1 left number 6 isolated-frog"),
    ("turnout T1 left number 6 isolatedfrog", "turnout T1 left number 6 isolated-frog"),
    ("turnout T1 left, number 6, isolated-frog", "turnout T1 left  number 6  isolated-frog"),
    ("turnout T1 y number 6 isolated-frog", "turnout T1 wye number 6 isolated-frog"),
    ("turnout 1 left number 6 isolated-frog", "turnout T1 left number 6 isolated-frog"),
    ('turnout "T1" left number 6 isolated-frog', "turnout T1 left number 6 isolated-frog"),
    ("turnout T1: left number 6 isolated-frog", "turnout T1 left number 6 isolated-frog"),
    ("points T1 left number 6 isolated-frog", "turnout T1 left number 6 isolated-frog"),
    ("gap T1 diverging frog rail", "gap T1.diverging frog rail"),
    ("gap T1.diverging frog", "gap T1.diverging frog rail"),
    ("gap T1.diverging frog-rail", "gap T1.diverging frog rail"),
    ("gap T1.diverging both rail", "gap T1.diverging both rails"),
    ("gap at T1.diverging both rails", "gap T1.diverging both rails"),
    ("gap west 40 cm left rail", "gap west at 40 cm left rail"),
    ("gap west at 40cm left", "gap west at 40cm left rail"),
    ("gap west at 40 cm left rails", "gap west at 40 cm left rail"),
    ("gap west left", "gap west left rail"),
    ("cut T1.diverging both rails", "gap T1.diverging both rails"),
    ("cut west at 40 cm both rails", "gap west at 40 cm both rails"),
    ("insulator T1.diverging both rails", "gap T1.diverging both rails"),
    ("feeder main to west", "feeder main -> west"),
    ("feeder main -> west, 22 AWG, 20 cm", "feeder main -> west  22 AWG  20 cm"),
    ("feeder main -> west 22ga 20 cm", "feeder main -> west 22 AWG 20 cm"),
    ("feeder main -> west 22 gauge 20 cm", "feeder main -> west 22 AWG 20 cm"),
    ("feeder main -> west 20 cm 22 AWG", "feeder main -> west at 20 cm 22 AWG"),
    ("feeder main -> west AWG 22", "feeder main -> west 22 AWG"),
    ("feeder main -> west 0.5 sqmm", "feeder main -> west 0.5 mm2"),
    ("feeder main -> west reversed", "feeder main -> west crossed"),
    ("feeder main -> west at middle", "feeder main -> west"),
    ("feeder main.red -> west left", "feeder main.red -> west.left"),
    ("feeder main red -> west.left", "feeder main.red -> west.left"),
    ("drop main -> west", "feeder main -> west"),
    ("feed main -> west", "feeder main -> west"),
    ("bus main P1 3 m 14 AWG", "bus main -> P1 3 m 14 AWG"),
    ("bus main -> P1 10 feet 14 AWG", "bus main -> P1 10 ft 14 AWG"),
    ("bus main -> P1 14 AWG 10 ft", "bus main -> P1 10 ft 14 AWG"),
    ("bus main -> P1 10' 14ga stranded", "bus main -> P1 10 ft 14 AWG stranded"),
    ("bus main -> P1, 10 ft, 14 AWG", "bus main -> P1  10 ft  14 AWG"),
    ("frog T1 auto main", "frog T1 automatic main"),
    ("frog T1 automatic from main", "frog T1 automatic main"),
    ("frog T1 through main.red diverging main.black", "frog T1 switched through main.red diverging main.black"),
    ("frog T1 switched main.red main.black", "frog T1 switched through main.red diverging main.black"),
    (
        "frog T1 switched through main red diverging main black",
        "frog T1 switched through main.red diverging main.black",
    ),
    ("frog T1 switched from stock rail", "frog T1 switched from stock rails"),
    ("bond T1 closure rails", "bond T1 closure rails to stock rails"),
    ("cut T1 around the frog", "cut T1 around frog"),
    ("cut T1 frog", "cut T1 frog rails"),
    ("joint T1.through T2.points", "joint T1.through -> T2.points"),
    ("joint T1.through to T2.points", "joint T1.through -> T2.points"),
    ("joint T1.through - T2.points", "joint T1.through -> T2.points"),
    ("endplate W red left", "endplate W left red"),
    ("engine goat left 0,31,62 mm right 0,31,62 mm 0.4 A", "engine goat left 0 31 62 mm right 0 31 62 mm 0.4 A"),
    ("engine goat left 0 31 62 mm right 0 31 62 mm .4 A", "engine goat left 0 31 62 mm right 0 31 62 mm 0.4 A"),
    ("loco goat left 0 31 62 mm right 0 31 62 mm 0.4 A", "engine goat left 0 31 62 mm right 0 31 62 mm 0.4 A"),
    ("limit feeder spacing 2 m", "limit feeder-spacing 2 m"),
    ("limit voltage drop 5%", "limit voltage-drop 5%"),
    ('accept unfed-frog T1 because "short"', 'accept unfed-frog at T1 because "short"'),
    ("accept unfed-frog at T1 because short enough", 'accept unfed-frog at T1 because "short enough"'),
    ('accept unfed-frog at T1 "short"', 'accept unfed-frog at T1 because "short"'),
    ("include shared.trackplan", 'include "shared.trackplan"'),
    ("include 'shared.trackplan'", 'include "shared.trackplan"'),
    ("module town town.trackplan", 'module town "town.trackplan"'),
    ("couple town.E quarry.W", "couple town.E -> quarry.W"),
    ('turntable TT 12"', "turntable TT 12 in"),
    ("turntable TT 12 inch", "turntable TT 12 in"),
    ("approach-track TT.lead 0 degrees", "approach-track TT.lead at 0 degrees"),
    ("approach-track TT lead at 0 degrees", "approach-track TT.lead at 0 degrees"),
    ("approach-track TT.lead at 0°", "approach-track TT.lead at 0 degrees"),
    ("crossing X1 30° isolated-frog", "crossing X1 30 degrees isolated-frog"),
    ("crossing X1 30deg isolated frog", "crossing X1 30 degrees isolated-frog"),
    ("slip D1 double #6 isolated-frog", "slip D1 double number 6 isolated-frog"),
    ("double slip D1 number 6 isolated-frog", "slip D1 double number 6 isolated-frog"),
    ("double-slip D1 number 6 isolated-frog", "slip D1 double number 6 isolated-frog"),
    ("scissors S1 #6 live frog", "scissors S1 number 6 live-frog"),
    ("threeway W1 symmetrical isolated-frog", "three-way W1 symmetrical isolated-frog"),
    ("3-way W1 symmetrical isolated-frog", "three-way W1 symmetrical isolated-frog"),
    ("power B1 15 V 5 A", "booster B1 15 V 5 A"),
    ("rails code100", "rails code 100"),
    ("rail code 83", "rails code 83"),
    ("common black of main, yard", "common black of main  yard"),
    ("common rail black of main yard", "common black of main yard"),
    ("// a comment", "# a comment"),
    ("; a comment", "# a comment"),
    ("-- a comment", "# a comment"),
    ("% a comment", "# a comment"),
    ("turnout T1 left number 6 live-frog // by the door", "turnout T1 left number 6 live-frog # by the door"),
    ("west W -> T1.points 90 cm", "segment west W -> T1.points 90 cm"),
    ("frog T1 from stock rails", "frog T1 switched from stock rails"),
]


@pytest.mark.parametrize(("typed", "meant"), TYPED)
def test_the_line_that_was_meant_is_offered(typed: str, meant: str) -> None:
    (broken,) = read(Source("p", typed)).broken
    assert broken.meant is not None
    offered = typed[: broken.at.start] + broken.meant + typed[broken.at.end :]
    assert offered == meant
    assert not read(Source("p", meant)).broken


@pytest.mark.parametrize(
    "typed",
    [
        'plan "a, b; c"', "turnout T1 left number 5 live-frog # No. 5, by the door",
        "segment T1 left -> right 3 ft 6 in", "booster main 15V 5A", "booster B1 15 V 5 A #2 of two",
    ],
)  # fmt: skip
def test_what_reads_is_left_alone(typed: str) -> None:
    assert not read(Source("p", typed)).broken


def test_a_comment_on_a_broken_line_stays_one() -> None:
    """Only a number right after the mark is taken for what everybody types."""
    (broken,) = read(Source("p", "turnout T1 left  # by the door")).broken
    assert broken.meant is None and "ends too soon" in broken.message


@pytest.mark.parametrize(
    ("typed", "form"),
    [
        ("turnout T9 right", "turnout T9 right isolated-frog"),
        ("turnout T9", "turnout T9 left isolated-frog"),
        ("segment west T1.points 90 cm", "segment west T1.points -> stop 90 cm"),
        ("district main trips 4 A", "district main from B1 trips 4 A"),
        ("bus main 3 m", "bus main -> P1 3 m"),
        ("frog T1 switched through P1.red", "frog T1 switched through P1.red diverging red"),
        ("engine goat 0.4 A", "engine goat left 90 cm right 90 cm 0.4 A"),
        ("gap T1.diverging", "gap T1.diverging both rails"),
        ("turnout T1 left dead or alive", "turnout T1 left dead-frog"),
    ],
)
def test_a_form_is_offered_with_the_words_that_fit(typed: str, form: str) -> None:
    assert filled_in(typed) == form
    assert not read(Source("p", form)).broken


@pytest.mark.parametrize("typed", ["frobnicate T1", "-> west", "90 cm", '"x"'])
def test_what_begins_no_statement_has_no_form(typed: str) -> None:
    assert filled_in(typed) is None


def test_whether_a_line_reads_is_told_as_by_reading_it() -> None:
    dice, told = Random(4), set()
    for line in (line for pair in TYPED for line in pair for _ in range(20)):
        words = line.split()
        dice.shuffle(words if dice.random() < 0.8 else [])
        tried = " ".join(words[: dice.randint(1, len(words))])
        try:
            parse(tried)
        except (Unexpected, Senseless):
            assert not reads(tried), tried
        else:
            assert reads(tried), tried
        told.add(reads(tried))
    assert told == {True, False}
