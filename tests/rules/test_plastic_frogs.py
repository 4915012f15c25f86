"""An eight, both loops of which bring opposite legs to the crossing: no metal frog serves both of its tracks.

Common practice: the crossing of a figure eight is one whose frogs are plastic, each of its four rails led past them.
"""

from __future__ import annotations

from railbond.circuit.facts import Facts
from railbond.findings import Finding
from railbond.inspection import examine
from railbond.rules import all_rules
from trackplan.edit import apply
from trackplan.read import read
from trackplan.span import Source

EIGHT = """\
scale HO
booster B1 15 V 5 A
district main from B1 trips 4 A
crossing X 30 degrees isolated-frog
segment east X.a2 -> X.b2 2 m
segment west X.b1 -> X.a1 2 m
frog X automatic main
feeder main -> east 22 AWG 20 cm
feeder main -> west 22 AWG 20 cm
"""
ALIKE = EIGHT.replace("X.a2 -> X.b2", "X.a2 -> X.b1").replace("X.b1 -> X.a1", "X.b2 -> X.a1")
"""The same track, but for a twist: both tracks of the crossing have the same legs on their left."""


def told(text: str) -> list[Finding]:
    source = Source("plan", text)
    found = examine(Facts(read(source).statements, {"plan": source}), all_rules())
    return [one for one in found if one.level == "error"]


def test_a_crossing_of_opposite_legs_is_to_be_plastic() -> None:
    (short,) = told(EIGHT)
    assert (short.rule, short.names) == ("opposed-at-gap", ("X",))
    (fix,) = short.fixes
    assert not fix.plain, "other trackwork is bought and laid: nobody's plan is changed so without being asked"
    mended = apply(Source("plan", EIGHT), fix.edits)
    assert mended == EIGHT.replace("isolated-frog", "dead-frog").replace("frog X automatic main\n", "")
    assert not told(mended)


def test_a_crossing_of_like_legs_keeps_its_frogs() -> None:
    assert not told(ALIKE)
