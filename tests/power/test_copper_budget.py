"""Looking for the least copper is bounded for a plan as a whole; what the budget leaves is said in words."""

from __future__ import annotations

import pytest

from railbond.circuit import facts as facts_room
from railbond.circuit.facts import Facts
from railbond.fixes.power_fixes import NOT_REACHED
from railbond.inspection import examine
from railbond.rules import rule
from trackplan.read import read
from trackplan.span import Source

FAR = """\
booster B1 15 V 5 A
district north from B1 trips 4 A
district south from B1 trips 4 A
bus north -> N 40 m 22 AWG
bus south -> S 40 m 22 AWG
segment a stop -> stop 2 m
segment b stop -> stop 2 m
feeder N -> a 22 AWG 20 cm
feeder S -> b 22 AWG 20 cm
"""


def fixes() -> list[list[str]]:
    source = Source("plan.trackplan", FAR)
    facts = Facts(read(source).statements, {source.path: source})
    found = examine(facts, [rule("short-will-not-trip")])
    return [[fix.words for fix in one.fixes if fix.plain] for one in found]


def test_every_supply_has_its_copper_while_the_budget_lasts() -> None:
    north, south = fixes()
    assert any("lay" in words for words in north) and any("lay" in words for words in south)
    assert not any(NOT_REACHED in words for words in (*north, *south))


def test_what_the_budget_leaves_is_told_without_lines(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(facts_room, "COPPER", -1e6)
    assert all(len(words) == 1 and NOT_REACHED in words[0] for words in fixes())
