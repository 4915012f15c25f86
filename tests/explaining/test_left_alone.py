"""What is right is left alone: of two slips that would explain a fault, the one that takes nothing away that is needed.

Each row is a sound plan, what is right in it and the slip made there; the first mend says what the sound plan says.
"""

from __future__ import annotations

import pytest

from explaining.test_explaining import bad, mended
from mend.likeness import said

POWER = "booster  B1  15 V  5 A\nbooster  B2  15 V  5 A\ndistrict harbor  from B1\ndistrict hill  from B2\n"
BONDS = f"""\
{POWER}segment  lead   stop -> T1.points   1 m
turnout  T1     left  number 6  live-frog
turnout  T2     left  number 6  dead-frog
joint    T1.through -> stop
segment  spur   T1.diverging -> T2.points  1 m
segment  one    T2.through -> stop       1 m
segment  two    T2.diverging -> stop     1 m
cut      T1     around frog
frog     T1     switched  through harbor.red  diverging harbor.black
bond     T2     closure rails to stock rails
bond     T1     closure rails to stock rails
feeder   harbor -> lead
feeder   harbor -> spur
feeder   harbor -> one
feeder   harbor -> two
"""
BOUNDARIES = f"""\
{POWER}segment  line  stop -> T1.points    2 m
turnout  T1    left  number 6  isolated-frog
segment  east  T1.through -> stop    2 m
segment  pit   T1.diverging -> stop  1 m
bond     T1    closure rails to stock rails
frog     T1    switched from stock rails
gap      T1.through    both rails
gap      T1.diverging  both rails
feeder   hill -> line
feeder   harbor -> east  at 30 cm
feeder   harbor -> east  at 1.7 m
feeder   harbor -> pit
"""
CLIMB = f"""\
{POWER}segment  quay    stop -> C.points   1.5 m
turnout  C       left  number 6  isolated-frog
bond     C       closure rails to stock rails
frog     C       switched from stock rails
segment  pier    C.diverging -> stop  1 m
segment  climb   C.through -> S       2 m
segment  summit  S -> stop            2 m
gap      S       both rails
feeder   harbor -> quay
feeder   harbor -> pier
feeder   harbor -> climb
feeder   hill -> summit
"""
CABS = """\
cab     inner  12 V  1 A  legs red black
cab     outer  12 V  1 A  legs red black
common  black of inner outer
block   depot   in inner or outer
block   square  in inner or outer
block   bridge  in inner or outer
segment yard  stop -> Y   60 cm
segment shed  Y -> A      60 cm
segment sq    A -> B      1.2 m
segment br    B -> stop   90 cm
gap     Y  left rail
gap     A  left rail
gap     B  left rail
feeder  depot -> yard
feeder  depot -> shed
feeder  square -> sq
feeder  bridge -> br
"""
DETECTED = """\
booster  B1   15 V  5 A
district main  from B1
block    b1   in main
block    b2   in main
common   black of main b1 b2
segment  yard  stop -> A   1 m
segment  one   A -> B      2 m
segment  two   B -> C      2 m
segment  end   C -> stop   1 m
gap      A     left rail
gap      B     left rail
gap      C     left rail
feeder   main -> yard
feeder   b1 -> one
feeder   b2 -> two
feeder   main -> end
"""
ENDS = f"""\
{POWER}segment  a     stop -> b.start  1 m
segment  b     a.finish -> c.start  1 m
segment  c     b.finish -> stop  1 m
gap      b.finish  both rails
gap      a.finish  both rails
feeder   harbor -> a
feeder   hill -> b  at 20 cm
feeder   hill -> b  at 80 cm
feeder   harbor -> c
"""
THROAT = """\
booster  B1  15 V  5 A
district west  from B1
district plat  from B1
bus      west -> W1  2 m
bus      plat -> S1  3 m
bus      S1 -> S2    2 m
segment  up    stop -> J           1.5 m
segment  mid   J -> T2.points      40 cm
turnout  T2    left  number 6  isolated-frog
segment  p2    T2.diverging -> stop  1.3 m
segment  p3    T2.through -> stop    1.3 m
gap      J     both rails
frog     T2    automatic S2
feeder   W1 -> up
feeder   S1 -> mid
feeder   S2 -> p2
feeder   S2 -> p3
"""
HELIX = """\
booster  B1  15 V  5 A
booster  B2  15 V  5 A
district upper  from B1
district lower  from B2
bus      upper -> U1  2 m
bus      U1 -> U2     3 m
bus      lower -> L1  2 m
segment  depot  stop -> D      1.2 m
segment  grade  D -> top       2 m
segment  helix  top -> stop    6 m
gap      top    both rails
feeder   U1 -> depot
feeder   U2 -> grade
feeder   L1 -> helix  at 1 m
feeder   L1 -> helix  at 5 m
"""
FERRY = """\
cab      C1  12 V  1 A
cab      C2  12 V  1 A
common   black of C1 C2
block    east  in C1 or C2
block    mid   in C1 or C2
segment  east-main  stop -> T1.points    1.5 m
turnout  T1     left  number 6  dead-frog
segment  mid-main   T1.through -> stop   1.5 m
segment  engine     T1.diverging -> stop 60 cm
bond     T1     closure rails to stock rails
gap      T1.through left rail
feeder   east -> east-main
feeder   east -> engine
feeder   mid -> mid-main
"""
SLIPS = {
    "a bond forgotten where another need not be": (BONDS, "bond     T1     closure rails to stock rails\n", ""),
    "a boundary forgotten beside one that then parts nothing": (BOUNDARIES, "gap      T1.through    both rails\n", ""),
    "a wire across a boundary, not the boundary at a turnout": (CLIMB, "harbor -> climb", "hill -> climb"),
    "a joint cut twice, once by the piece's other end": (ENDS, "gap      b.finish", "gap      b.start"),
    "a frog's unit on a far terminal, not on the nearest": (THROAT, "automatic S2", "automatic W1"),
    "a wire of the other bus, whose own terminal feeds nothing": (HELIX, "U2 -> grade", "L1 -> grade"),
    "a wire of another block, named unlike the track beside": (FERRY, "east -> engine", "mid -> engine"),
    "a lone wire of another block": (CABS, "feeder  depot -> shed\n", "{}feeder  bridge.red -> shed.left\n"),
    "the common rail cut in place of the other": (CABS, "gap     A  left rail", "gap     A  right rail"),
    "no wire where every stretch beside has a block": (DETECTED, "feeder   main -> end\n", ""),
}  # fmt: skip


@pytest.mark.parametrize("name", SLIPS)
def test_the_first_mend_undoes_the_slip_and_nothing_else(name: str) -> None:
    first_mend_undoes(*SLIPS[name])


def first_mend_undoes(sound: str, right: str, wrong: str) -> None:
    assert bad(sound) == []
    faulty = sound.replace(right, wrong.format(right))
    assert faulty != sound
    (found,) = bad(faulty)
    assert said(mended(faulty, found)) == said(sound)
