"""Slips at turnouts and tables: cut once where it should be twice, between two lines, of another build, split wrong."""

from __future__ import annotations

import pytest

from explaining.test_left_alone import POWER, first_mend_undoes

OVALS = f"""\
{POWER}turnout  XA     left  number 6  isolated-frog
turnout  XB     left  number 6  isolated-frog
joint    XA.diverging -> XB.diverging
segment  outer  XA.through -> XA.points  6 m
segment  inner  XB.points -> XB.through  6 m
gap      XA.diverging  both rails
frog     XA     switched from stock rails
frog     XB     switched from stock rails
feeder   harbor -> outer
feeder   hill -> inner
"""
FEEDS = """\
frog     A       switched from stock rails
frog     B       switched from stock rails
frog     C       automatic RT
"""
WYE = """\
booster  B1  15 V  5 A
district main  from B1
reverser RT  in main
segment  west    stop -> A.points        2 m
turnout  A       left  number 6  isolated-frog
segment  direct  A.through -> B.through  1.8 m
turnout  B       right  number 6  isolated-frog
segment  east    B.points -> stop        2 m
segment  leg-w   A.diverging -> C.left   1 m
segment  leg-e   B.diverging -> C.right  1 m
turnout  C       wye  number 6  isolated-frog
segment  tail    C.points -> stop        2.2 m
gap      C.left   both rails
gap      C.right  both rails
frog     A       switched from stock rails
frog     B       switched from stock rails
frog     C       automatic RT
feeder   main -> west
feeder   main -> direct
feeder   main -> east
feeder   main -> leg-w
feeder   main -> leg-e  crossed
feeder   RT -> tail
train    longest  1.8 m
"""
LOOP = """\
booster  B1  13 V  3 A
district line  from B1
reverser AR  in line
segment  town    stop -> T1.points          1 m
turnout  T1      left  number 7  dead-frog
segment  loop-a  T1.through -> T2.points    90 cm
turnout  T2      right  number 7  dead-frog
segment  inside  T2.through -> T3.through   80 cm
segment  siding  T2.diverging -> T3.diverging  80 cm
turnout  T3      left  number 7  dead-frog
segment  loop-c  T3.points -> T1.diverging  90 cm
bond     T1     closure rails to stock rails
bond     T2     closure rails to stock rails
bond     T3     closure rails to stock rails
gap      T1.through    both rails
gap      T1.diverging  both rails
feeder   line -> town
feeder   AR -> loop-a
feeder   AR -> inside
feeder   AR -> siding
feeder   AR -> loop-c
train    longest  1 m
"""
TABLE = """\
booster  B1  15 V  5 A
district yard  from B1
segment  arrive  stop -> TT.in   50 cm
turntable       TT      30 cm
approach-track  TT.in  at 0 degrees
approach-track  TT.s1  at 170 degrees
approach-track  TT.s2  at 190 degrees
segment  s1      TT.s1 -> stop   30 cm
segment  s2      TT.s2 -> stop   30 cm
feeder   yard -> arrive
feeder   yard -> s1
feeder   yard -> s2
feeder   yard -> TT.bridge  split at 90 degrees
"""
SLIPS = {
    "the cut in the midst of a crossover": (OVALS, "gap      XA.diverging  both rails\n", ""),
    "a turnout of another build": (OVALS, "XA     left  number 6  isolated", "XA     left  number 6  live"),
    "a wye cut once, at its points": (
        WYE,
        "gap      C.left   both rails\ngap      C.right  both rails",
        "gap      C.points  both rails",
    ),
    "a wye cut once, at its points, its frog fed from there": (
        WYE,
        "gap      C.left   both rails\ngap      C.right  both rails\n" + FEEDS,
        "gap      C.points  both rails\n" + FEEDS.replace("RT", "main"),
    ),
    "a loop cut once, at its points": (
        LOOP,
        "gap      T1.through    both rails\ngap      T1.diverging  both rails",
        "gap      T1.points  both rails",
    ),
    "a ring whose split grazes a track": (TABLE, "split at 90", "split at 9"),
}  # fmt: skip


@pytest.mark.parametrize("name", SLIPS)
def test_the_first_mend_undoes_the_slip(name: str) -> None:
    first_mend_undoes(*SLIPS[name])
