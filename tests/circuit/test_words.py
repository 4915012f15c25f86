"""Rails and settings in the words of somebody who stands beside the track."""

from __future__ import annotations

import pytest

from railbond.circuit.facts import Facts
from railbond.circuit.regions import track_words
from railbond.circuit.witness import setting_words
from railbond.inspection import inspect
from trackplan.gather import gather
from trackplan.read import read
from trackplan.span import Source

HEAD = "booster B1 15 V 5 A\ndistrict main from B1 trips 4 A\n"
TURNOUT = (
    HEAD
    + """segment a stop -> T1.points 1 m
turnout T1 left isolated-frog
segment b T1.through -> stop 1 m
segment c T1.diverging -> stop 1 m
frog T1 switched from stock rails
"""
)
WYE = (
    HEAD
    + """segment a stop -> JN.points 1 m
turnout JN wye dead-frog
segment b {} -> stop 1 m
segment c {} -> stop 1 m
"""
)
FED = "feeder {} -> a.left\nfeeder main.black -> a.right\nfeeder main -> b\nfeeder main -> c\n"


def facts_of(text: str) -> Facts:
    source = Source("p", text)
    return Facts(read(source).statements, {"p": source})


def words_of(*rails: str) -> str:
    facts = facts_of(TURNOUT)
    base, metals = facts.wiring.first["T1"], facts.layout.pieces["T1"].template.metals
    return track_words(facts, [base + at for at, metal in enumerate(metals) if not rails or metal.words in rails])


def test_a_rail_is_told_by_where_it_lies_and_by_its_name() -> None:
    metals = [metal.words for metal in facts_of(TURNOUT).layout.pieces["T1"].template.metals]
    closure = next(words for words in metals if "closure" in words)
    assert words_of(closure) == (
        f"the rail between T1's blades and its frog on the {closure.split()[0]} route ({closure})"
    )
    assert words_of() == "every rail of T1"
    assert all(words in words_of(*metals[:3]) for words in metals[:3])


def test_no_rail_is_told_as_a_number() -> None:
    for text in (TURNOUT, TURNOUT + "feeder main -> a\n"):
        findings = inspect(gather("p", lambda path, text=text: text)).findings
        assert not [one for one in findings if " rails of T1" in one.message]


def test_a_bridge_that_is_turned_is_told_by_its_tail() -> None:
    assert setting_words([("TT", "s2-turned"), ("T1", "through")]) == "T1 through, TT turned, its tail at s2"


@pytest.mark.parametrize(
    ("text", "meant"),
    [
        (WYE.format("JN.through", "JN.right") + FED.format("main.red"), "JN.left"),
        (WYE.format("JN.left", "JN.diverging") + FED.format("main.red"), "JN.right"),
        (WYE.format("JN.left", "JN.right") + FED.format("main.r"), "main.red"),
        (WYE.format("JN.l", "JN.right") + FED.format("main.red"), "JN.left"),
    ],
)
def test_an_arm_or_a_leg_by_instinct_is_answered_with_the_right_one(text: str, meant: str) -> None:
    findings = inspect(gather("p", lambda path: text)).findings
    (finding,) = [one for one in findings if one.rule == "unknown-name"]
    assert f"did you mean `{meant}`?" in finding.message and finding.fixes[0].edits[0].text == meant
