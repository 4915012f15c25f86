"""Where reversing sections are put: the loops and wyes of the trade, each with as few reversers as can be.

What each track shape needs is common practice: a balloon loop, a wye, and a cut-off that links two mains so that a
train comes back turned, need one reverser each; a dogbone's two loops need one each; loops that share a stretch need
one if that stretch is the section.
"""

from __future__ import annotations

import pytest

from railbond.circuit.facts import Facts
from railbond.findings import Finding
from railbond.fixes.sections import turns
from railbond.inspection import inspect
from railbond.mend.overlay import Overlay
from railbond.mend.rounds import mend
from trackplan.edit import apply
from trackplan.gather import gather
from trackplan.read import read
from trackplan.span import Source

RULE = "reversing-without-reverser"
HEAD = "booster  B1  15 V  5 A\ndistrict main  from B1  trips 4 A\n"

BALLOON = (
    HEAD
    + """\
segment  lead  stop -> T1.points            90 cm
turnout  T1    left  number 6  dead-frog
segment  loop  T1.through -> T1.diverging   4 m
bond     T1    closure rails to stock rails
feeder   main -> lead
feeder   main -> loop
"""
)
WYE = (
    HEAD
    + """\
segment  west  stop -> A.points             3 m
segment  east  stop -> B.points             3 m
segment  tail  C.points -> stop             {tail}
turnout  A     left   number 6  dead-frog
turnout  B     right  number 6  dead-frog
turnout  C     wye    number 6  dead-frog
segment  main1 A.through -> B.through       2.5 m
segment  leg1  A.diverging -> C.left        1.5 m
segment  leg2  B.diverging -> C.right       1.2 m
bond     A     closure rails to stock rails
bond     B     closure rails to stock rails
bond     C     closure rails to stock rails
feeder   main -> west
"""
)
DOGBONE = (
    HEAD
    + """\
segment  line  T1.points -> T2.points       5 m
turnout  T1    left  number 6  dead-frog
turnout  T2    left  number 6  dead-frog
segment  loop1 T1.through -> T1.diverging   3 m
segment  loop2 T2.through -> T2.diverging   4 m
bond     T1    closure rails to stock rails
bond     T2    closure rails to stock rails
feeder   main -> line
"""
)
LOOP_IN_LOOP = (
    HEAD
    + """\
segment  lead  stop -> T1.points            90 cm
turnout  T1    left  number 6  dead-frog
segment  way   T1.through -> T2.points      1 m
turnout  T2    left  number 6  dead-frog
segment  inner T2.through -> T3.through     2 m
segment  outer T2.diverging -> T3.diverging 3 m
turnout  T3    right number 6  dead-frog
segment  back  T3.points -> T1.diverging    1.5 m
bond     T1    closure rails to stock rails
bond     T2    closure rails to stock rails
bond     T3    closure rails to stock rails
feeder   main -> lead
"""
)
CUT_OFF = (
    HEAD
    + """\
segment  north  A.through -> B.points       4 m
segment  south  B.through -> A.points       5 m
turnout  A      left  number 6  dead-frog
turnout  B      left  number 6  dead-frog
segment  off    A.diverging -> B.diverging  2 m
bond     A      closure rails to stock rails
bond     B      closure rails to stock rails
feeder   main -> north
"""
)


def facts(text: str) -> Facts:
    source = Source("plan", text)
    reading = read(source)
    assert not reading.broken
    return Facts(reading.statements, {"plan": source})


def mended(text: str) -> str:
    overlay = Overlay(["plan"], {"plan": text}.__getitem__)
    mend(overlay, (RULE,))
    assert RULE not in [one.rule for one in overlay.inspection("plan").findings]
    return overlay.open_text("plan")


def added(text: str, keyword: str) -> list[str]:
    """The lines of one kind that mending adds, in order."""
    new = mended(text).splitlines()
    return sorted(" ".join(line.split()) for line in new if line not in text.splitlines() and keyword in line)


SHAPES = {
    "a balloon": (BALLOON, 1),
    "a wye": (WYE.format(tail="1 m"), 1),
    "a dogbone": (DOGBONE, 2),
    "a loop within a loop": (LOOP_IN_LOOP, 1),
    "a cut-off between two mains": (CUT_OFF, 1),
}


@pytest.mark.parametrize(("text", "reversers"), SHAPES.values(), ids=SHAPES)
def test_as_few_reversers_as_can_be(text: str, reversers: int) -> None:
    assert len(list(turns(facts(text)))) == reversers
    assert len(added(text, "reverser ")) == reversers


def test_both_rails_are_gapped_at_both_ends() -> None:
    assert added(BALLOON, "gap ") == ["gap T1.diverging both rails", "gap T1.through both rails"]
    assert added(BALLOON, "feeder ") == ["feeder R1 -> loop"]


def test_the_longest_stretch_is_taken() -> None:
    """Of a wye's three sides the longest, and no turnout is held in it."""
    assert added(WYE.format(tail="1 m"), "gap ") == ["gap A.through both rails", "gap B.through both rails"]


def test_a_train_too_long_for_any_side_goes_to_the_tail() -> None:
    """With its turnout, cut at that one's two frog ends, the tail is the only section long enough."""
    text = WYE.format(tail="3.2 m") + "train  longest  2.8 m\n"
    assert added(text, "gap ") == ["gap C.left both rails", "gap C.right both rails"]


def test_a_loop_shared_by_two_is_cut_where_both_pass() -> None:
    """A section in the inner or the outer track would leave the other one turning."""
    sections = {part[0] for turn in turns(facts(LOOP_IN_LOOP)) for part in turn.sections[0].parts}
    assert sections == {"back"}


def test_gaps_that_are_cut_already_show_where_it_was_meant() -> None:
    text = WYE.format(tail="1 m") + "gap  A.diverging  both rails\ngap  C.left  both rails\n"
    assert added(text, "gap ") == []
    assert added(text, "reverser ") == ["reverser R1 in main"]


def test_a_reverser_that_feeds_nothing_is_used_first() -> None:
    text = BALLOON.replace("segment  lead", "reverser R7  in main\nsegment  lead", 1)
    assert added(text, "reverser ") == []
    assert added(text, "feeder ") == ["feeder R7 -> loop"]


def test_a_run_that_feeds_only_the_section_is_moved_whole() -> None:
    runs = "bus      main -> P1  1 m  14 AWG\n"
    text = BALLOON.replace("segment  lead", f"{runs}segment  lead", 1).replace("main -> loop", "P1 -> loop")
    assert added(text, "bus ") == ["bus R1 -> P1 1 m 14 AWG"]
    assert added(text, "feeder ") == []


def test_track_that_loses_its_power_gets_a_feeder() -> None:
    """The lead had power only by way of the loop."""
    text = BALLOON.replace("feeder   main -> lead\n", "")
    assert added(text, "feeder ") == ["feeder R1 -> loop", "feeder main -> lead"]


def test_the_section_is_compared_with_the_longest_train() -> None:
    from railbond.inspection import examine
    from railbond.rules import all_rules

    told = [one for one in examine(facts(BALLOON + "train  longest  5 m\n"), all_rules()) if one.rule == RULE]
    assert "shorter than longest, 5 m" in told[0].fixes[0].words


FOLDED = (
    HEAD
    + """\
segment loopw WM -> WR 3 m
segment loope ER -> EM 3 m
segment wb1   WR -> X1.points 2 m
turnout X1    left number 6 isolated-frog
segment wb2   X1.through -> ER 2 m
segment eb1   EM -> X2.points 2 m
turnout X2    left number 6 isolated-frog
segment eb2   X2.through -> WM 2 m
segment xo    X1.diverging -> X2.diverging 20 cm
bond    X1    closure rails to stock rails
bond    X2    closure rails to stock rails
frog    X1    switched from stock rails
frog    X2    switched from stock rails
feeder  main -> loopw
feeder  main -> loope
feeder  main -> wb1
feeder  main -> wb2
feeder  main -> eb1
feeder  main -> eb2
feeder  main -> xo
train   longest  2 m
"""
)


def errors(text: str) -> list[Finding]:
    inspection = inspect(gather("plan.trackplan", lambda _: text))
    return [one for one in inspection.findings if one.level == "error"]


def test_a_section_that_holds_the_train_runs_over_a_turnout_and_has_three_ends() -> None:
    """A folded dog bone: its crossover is 20 cm long, and the train 2 m. Common practice makes the returning track the
    section, with its turnout."""
    (told,) = errors(FOLDED)
    assert errors(apply(Source("plan.trackplan", FOLDED), told.fixes[0].edits)) == []
    assert sum(edit.text.startswith("gap") for edit in told.fixes[0].edits) == 3


def test_a_piece_without_length_is_no_section() -> None:
    text = FOLDED.replace("train   longest  2 m\n", "")
    (told,) = errors(text)
    assert all("(0 m)" not in fix.words for fix in told.fixes)
