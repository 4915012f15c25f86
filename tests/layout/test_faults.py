"""What is told of each fault of a plan: the rule, the words it points at, and what was expected there."""

from __future__ import annotations

from typing import NamedTuple

import pytest

from layout.plans import POWER, SIDING, faults, layout, mended, told

PLAN = POWER + SIDING

# Lines that are added to the plan, then the rule and the words that it points at, then what it says.

UNKNOWN = """
feeder P1 -> wst
  unknown-name: wst
  no segment or turnout is called `wst`; did you mean `west`?

feeder P1 -> shed
  unknown-name: shed
  no segment or turnout is called `shed`

feeder mian -> west
  unknown-name: mian
  no district, block, reverser or bus terminal is called `mian`; did you mean `main`?

feeder B1 -> west
  unknown-name: B1
  `B1` is a booster, not a district, block, reverser or bus terminal

feeder P1.rd -> west.left
  unknown-name: P1.rd
  `P1` has no leg `rd`; its legs are `red` and `black`; did you mean `P1.red`?

feeder P1.red -> west.lft
  unknown-name: west.lft
  `west.lft` is no rail to solder to; expected `west.left` or `west.right`; did you mean
  `west.left`?

feeder P1.red -> T1.points.stock
  unknown-name: T1.points.stock
  expected `T1.through.frog`

bond west closure rails to stock rails
  unknown-name: west
  `west` is a segment, not a turnout

cut T9 closure jumpers
  unknown-name: T9
  no turnout is called `T9`

frog T1 switched with T9 through P1.red diverging P1.black
  unknown-name: T9
  no turnout is called `T9`

frog T1 automatic P9
  unknown-name: P9
  bus terminal is called `P9`

district yard from B9
  unknown-name: B9
  no booster is called `B9`

block yard in mian
  unknown-name: mian
  no district is called `mian`; did you mean `main`?

reverser loop in B1
  unknown-name: B1
  `B1` is a booster, not a district

gap T1.pints left rail
  unknown-name: T1.pints
  `T1` has no end `pints`; its ends are `points`, `through` and `diverging`; did you mean
  `T1.points`?

gap west left rail
  unknown-name: west
  Expected `west.start` or `west.finish`, or `gap west at 20 cm left rail`

gap nowhere left rail
  unknown-name: nowhere
  no joint, end or segment is called `nowhere`

gap wset at 2 cm left rail
  unknown-name: wset
  no segment is called `wset`; did you mean `west`?

segment x T1 -> stop 1 m
  unknown-name: T1
  which end of `T1`? Expected `T1.points`, `T1.through` or `T1.diverging`

segment x main -> stop 1 m
  unknown-name: main
  `main` is a district, not a place where track ends

segment x T9.points -> stop 1 m
  unknown-name: T9.points
  no segment or turnout is called `T9`

accept stalls at wset because "x"
  unknown-name: wset
  is called `wset`; did you mean `west`?

endplate W left blue
segment x W -> stop 1 m
  unknown-name: blue
  no leg is called `blue`; the legs are `red` and `black`

district d from B1 legs black red
endplate W left red
segment x W -> stop 1 m
  unknown-name: red
  `red` is the first leg of one supply and the second of another

segment x stop -> T1.pionts 1 m
  unknown-name: T1.pionts
  did you mean `T1.points`?
"""

TWICE = """
segment west stop -> stop 1 m
  name-used-twice: west
  `west` is already the name of a segment; the first one stands

block P1 in main
feeder P1 -> west
  name-used-twice: P1
  `P1` is already the name of a block, and a bus ends at a terminal

bus main -> west
feeder west -> siding
  name-used-twice: west
  and a bus ends at a terminal

bus main -> west
  name-used-twice: west
  `west` is already the name of a segment, and a bus ends at a terminal

engine e left 0 mm right 0 mm 1 A
train e 2 m
  name-used-twice: e
  `e` is already the name of an engine

limit voltage-drop 5 %
limit voltage-drop 4 %
  name-used-twice: voltage-drop
  already the name of a limit
"""

LOOSE = """
segment x J -> stop 1 m
  loose-end: J
  two ends must meet at the joint `J`, and only `x.start` names it

segment x west.finish -> stop 1 m
  impossible: west.finish
  `west.finish` already meets `T1.points`

turnout T2 left dead-frog
joint T2.points -> stop
joint T2.through -> stop
  loose-end: T2
  `T2.diverging` meets nothing

turnout T2 left dead-frog
  loose-end: T2
  `T2.points`, `T2.through` and `T2.diverging` meet nothing

endplate W
  loose-end: W
  no track reaches the endplate `W`: expected a segment that starts or ends at it

bus P5 -> P6
bus P6 -> P5
  loose-end: P6
  nothing feeds `P6`: expected a bus that leads to it
"""

IMPOSSIBLE = """
segment x T1.points -> stop 1 m
  impossible: T1.points
  three ends cannot meet at one joint: `T1.points` already meets `west.finish`

joint T1.points -> stop
  impossible: stop
  `T1.points` already meets `west.finish`

joint west.start -> middle.finish
  impossible: middle.finish
  `west.start` is already the end of track

segment x J -> stop 1 m
segment y J -> stop 1 m
segment z J -> stop 1 m
  impossible: J
  `x.start` and `y.start` meet at `J` already

segment x x.start -> stop 1 m
  impossible: x.start
  `x.start` cannot meet itself

endplate W
segment x W -> W 1 m
  impossible: W
  `x.start` already reaches the endplate `W`, which takes one track

joint J -> K
  impossible: J
  neither `J` nor `K` is the end of a piece

gap west.start left rail
  impossible: west.start
  the track stops at `west.start`

endplate W
segment x W -> stop 1 m
gap W both rails
  impossible: W
  cut them beside it, as in `gap x at 2 cm both rails`

endplate W
segment x W -> stop 1 m
gap x.start left rail
  impossible: x.start
  the module's edge, `W`

gap west at 90 cm left rail
  impossible: 90 cm
  `west` is 90 cm long and cannot be cut at 90 cm; a gap at its far end is `gap west.finish left
  rail`

gap west at 2 m left rail
  impossible: 2 m
  `west` is 90 cm long and cannot be cut at 2 m

gap west at 2 cm frog rail
  impossible: frog rail
  a segment has no frog rail: expected `left rail`, `right rail` or `both rails`

gap west.start at 2 cm left rail
  impossible: 2 cm
  expected `gap west at 2 cm left rail`, or `west.start` without `at`

gap west at 2 cm both rails
gap west at 20 mm left rail
  impossible: left rail
  a rail of `west` is already cut at this place

gap T1.through frog rail
gap middle.start frog rail
  impossible: frog rail
  a rail of `middle.start` is already cut

gap T1.points frog rail
  impossible: frog rail
  no turnout's frog lies at `T1.points`

segment x stop -> J 1 m
segment y stop -> J 1 m
gap J left rail
  impossible: left rail
  expected `gap x.finish left rail` or `gap y.finish left rail`

bond T1 closure rails to stock rails
bond T1 closure rails to stock rails
  impossible: bond T1 closure rails to stock rails
  already told

cut T1 around frog
cut T1 closure jumpers
  impossible: cut T1 closure jumpers
  keeps its jumpers

frog T1 automatic P1
frog T1 switched from stock rails
  impossible: T1
  a frog has one feed

frog T1 automatic P1.red
  impossible: P1.red
  both wires are needed here: expected `P1`, without a leg

frog T1 switched through P1 diverging P1.black
  impossible: P1
  `P1` has two wires: expected `P1.red` or `P1.black`

feeder P1.red -> west
  impossible: west
  expected `feeder P1 -> west` or `feeder P1.red -> west.left`

feeder P1 -> west.right
  impossible: west.right
  expected `feeder P1 -> west` or `feeder P1.red -> west.left`

feeder P1 -> T1.through.stock
  impossible: T1.through.stock
  both wires of `P1` to one rail cannot be soldered: expected `feeder P1.red -> T1.

feeder P1 -> T1
  impossible: T1
  a wire is soldered to a rail, and `T1` is none: expected `T1.through.frog`

feeder P1.red -> west.start
  impossible: west.start
  expected `west`, `west.left` or `west.right`

feeder P1.red -> T1.through.frog at 2 cm
  impossible: 2 cm
  leave `at 2 cm` out

feeder P1.red -> west.left crossed
  impossible: crossed
  one wire has nothing to be crossed with

feeder P1 -> west at 1 m
  impossible: 1 m
  `west` is 90 cm long: expected a place on it

gap west at 2 cm left rail
feeder P1 -> west
  impossible: west
  say where the feeder goes, such as `feeder P1 -> west at 20 cm`

gap west at 2 cm both rails
feeder P1 -> west at 2 cm
  impossible: 2 cm
  `west` is cut here

bus P1 -> P1
  impossible: P1
  a bus run cannot end where it starts

bus P7 -> P7
  impossible: P7
  a bus run cannot end where it starts

district d from B1 legs red red
  impossible: red
  the two wires of `d` need two names

scale HO
scale N
  impossible: N
  the plan is in HO scale already
"""


class Case(NamedTuple):
    lines: str
    rule: str
    at: str
    message: str


def case(entry: str) -> Case:
    lines = entry.splitlines()
    added = [line for line in lines if not line.startswith("  ")]
    rule, _, at = lines[len(added)].strip().partition(": ")
    return Case("\n".join(added), rule, at, " ".join(line.strip() for line in lines[len(added) + 1 :]))


CASES = [case(entry) for told in (UNKNOWN, TWICE, LOOSE, IMPOSSIBLE) for entry in told.strip("\n").split("\n\n")]


@pytest.mark.parametrize("case", CASES, ids=[one.lines for one in CASES])
def test_a_fault_is_told_alone_and_in_plain_words(case: Case) -> None:
    """Nothing else is told of a line that holds one fault, nor of the lines that rely on it."""
    (fault,) = faults(f"{PLAN}{case.lines}\n")
    assert (fault.rule, fault.at) == (case.rule, case.at)
    assert case.message in fault.message


DEAD = PLAN.replace("live-frog", "dead-frog")


@pytest.mark.parametrize(
    "line",
    ["frog T1 automatic P1", "frog T1 switched from stock rails", "frog T1 switched through P1.red diverging P1.black"],
)
def test_a_plastic_frog_takes_no_power(line: str) -> None:
    (fault,) = layout(f"{DEAD}{line}\n").faults
    assert fault.rule == "impossible" and fault.message == "the frog of `T1` is plastic and takes no power"
    assert "live-frog or isolated-frog" in fault.mend


def test_a_cut_of_metal_that_is_not_there_is_told_and_left_out() -> None:
    plan = layout(f"{DEAD}bond T1 closure rails to stock rails\ncut T1 around frog\n")
    assert [told(DEAD + "\n" * 99, fault).rule for fault in plan.faults] == ["impossible"]
    assert [type(one).__name__ for one in plan.pieces["T1"].work] == ["ClosureBond"]


BETWEEN = "turnout T left live-frog\nturnout U left live-frog\njoint T.through -> J\njoint J -> U.through\n" + "".join(
    f"joint {end} -> stop\n" for end in ("T.points", "T.diverging", "U.points", "U.diverging")
)


def test_between_turnouts_no_arrow_tells_left_from_right() -> None:
    (fault,) = faults(f"{BETWEEN}gap T.through left rail\n")
    assert fault.message.endswith("expected `both rails`, `frog rail` or `stock rail`")


def test_a_joint_of_two_frogs_must_be_named_by_the_turnouts_end() -> None:
    (fault,) = faults(f"{BETWEEN}gap J frog rail\n")
    assert fault.message.endswith("expected `gap T.through frog rail` or `gap U.through frog rail`")


def test_the_first_of_two_is_pointed_at() -> None:
    text = f"{PLAN}segment west stop -> stop 1 m\n"
    (fault,) = layout(text).faults
    (step,) = fault.why
    assert step.at and step.at.start == text.index("west")
    assert fault.at.start == text.rindex("west")
    assert step.text == "`west` is a segment here"


def test_a_fault_can_be_accepted_at_what_it_is_about() -> None:
    (fault,) = layout(f"{PLAN}segment x T1.points -> stop 1 m\n").faults
    assert fault.names == ("T1.points", "T1", "x")


EDITED = [
    "feeder P1 -> wst", "feeder P1.rd -> west.left", "feeder P1.red -> west.lft", "block yard in mian",
    "gap T1.pints left rail", "feeder mian -> west", "gap wset at 2 cm left rail", "feeder P1.red -> T1.trough.stock",
    "feeder P1.red -> wst.left", "segment x J -> stop 1 m", "turnout T2 left dead-frog",
    "segment x Jnction -> stop 1 m\nsegment y stop -> Junction 1 m", "segment x stop -> W1 1 m\nendplate w1",
    "segment x stop -> y.start 1 m\nsegment y K -> stop 1 m",
    "turnout T2 left dead-frog\nsegment x stop -> T2-points 1 m\njoint T2.through -> stop\njoint T2.diverging -> stop",
]  # fmt: skip


@pytest.mark.parametrize("lines", EDITED)
def test_the_edit_cures_the_fault(lines: str) -> None:
    text = f"{PLAN}{lines}\n"
    (fault,) = layout(text).faults
    assert fault.edits and fault.mend
    assert faults(mended(text, fault)) == []
