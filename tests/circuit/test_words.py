"""Rails and settings in the words of somebody who stands beside the track."""

from __future__ import annotations

import re

import pytest

from railbond.circuit.facts import Facts
from railbond.circuit.plain_words import plainly, stands
from railbond.circuit.regions import track_words
from railbond.inspection import inspect
from railbond.rules import all_rules
from railbond.rules.rule import Rule
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
    assert words_of(closure) == f"the rail between T1's blades and its frog, on the side of c ({closure})"
    assert words_of() == "every rail of T1"
    assert all(words in words_of(*metals[:3]) for words in metals[:3])


def test_no_rail_is_told_as_a_number() -> None:
    for text in (TURNOUT, TURNOUT + "feeder main -> a\n"):
        findings = inspect(gather("p", lambda path, text=text: text)).findings
        assert not [one for one in findings if " rails of T1" in one.message]


KINDS = (
    HEAD
    + """segment  a      stop -> T1.points        1 m
turnout  T1     left isolated-frog
segment  main-line  T1.through -> T2.points  1 m
segment  siding     T1.diverging -> stop     1 m
turnout  T2     curved right isolated-frog
segment  outer  T2.through -> Y1.points      1 m
segment  inner  T2.diverging -> D1.a1        1 m
turnout  Y1     wye dead-frog
segment  ice    Y1.left -> stop              1 m
segment  coal   Y1.right -> W1.points        1 m
three-way  W1   symmetrical isolated-frog
slip     D1     double isolated-frog
turntable TT    30 cm
approach-track  TT.s1 at 0 degrees
approach-track  TT.s2 at 30 degrees
block    yard   in main or main
cab      C1     12 V 1 A
block    lent   in C1 or main
"""
)


@pytest.mark.parametrize(
    ("switch", "position", "said"),
    [
        ("T1", "through", "T1 straight"), ("T1", "diverging", "T1 thrown"), ("T2", "through", "T2 straight"),
        ("T2", "diverging", "T2 thrown"), ("Y1", "left", "Y1 set to the left"), ("W1", "through", "W1 straight"),
        ("W1", "right", "W1 set to the right"), ("D1", "a", "D1 set from a1 to a2"),
        ("D1", "a-b", "D1 set from a1 to b2"), ("TT", "s2", "TT at s2"),
        ("TT", "s2-turned", "TT turned end for end at s2"), ("lent", "main", "lent switched to main"),
    ],
)  # fmt: skip
def test_a_switch_stands_as_a_person_says_it(switch: str, position: str, said: str) -> None:
    """Common practice: points are thrown or not, a wye and a three-way are set to a side, a toggle is switched."""
    facts = facts_of(KINDS)
    assert position in facts.graph.positions[switch]
    assert stands(facts, switch, position) == said


@pytest.mark.parametrize(
    ("exact", "said"),
    [
        ("with T1 diverging the frog", "with T1 thrown the frog"),
        ("with T1 diverging, the back", "with T1 thrown, the back"),
        ("with T1 diverging, T2 through, it", "with T1 thrown and T2 straight, it"),
        ("with T1 through, TT s1, D1 a: on", "with D1 set from a1 to a2, T1 straight and TT at s1: on"),
        ("write `frog T1 switched with T1 through x`", "write `frog T1 switched with T1 through x`"),
        ("with T9 through, with metal wheels", "with T9 through, with metal wheels"),
    ],
)  # fmt: skip
def test_settings_in_a_text_are_told_so(exact: str, said: str) -> None:
    assert plainly(facts_of(KINDS), exact, set()) == said


@pytest.mark.parametrize(
    ("rail", "said"),
    [
        ("T1's through closure rail", "the rail between T1's blades and its frog, on the side of siding"),
        ("T1's diverging closure rail", "the rail between T1's blades and its frog, on the side of main-line"),
        ("T1's diverging stock rail", "T1's outer rail on the side of siding"),
        ("T1's through frog rail", "the inner rail from T1's frog to main-line"),
        ("Y1's left frog rail", "the inner rail from Y1's frog to ice"),
        ("W1's right middle rail", "a rail between W1's frogs"),
        ("D1's a left closure rail", "a rail between D1's blades and its frogs"),
    ],
)
def test_metal_is_told_by_where_it_lies_once(rail: str, said: str) -> None:
    """Worked out on the drawing of a left-hand turnout: looking from the points the siding leaves to the left, and the
    left of the two rails between blades and frog is the through route's own left rail."""
    text = plainly(facts_of(KINDS), f"{rail} meets {rail}", set())
    assert text == f"{said} ({rail}) meets {rail}"


def test_beyond_both_routes_lies_the_same() -> None:
    facts = facts_of(HEAD + "turnout T1 left isolated-frog\nsegment loop T1.through -> T1.diverging 9 m\n")
    assert "on the side of its diverging route" in plainly(facts, "T1's through closure rail", set())


EXACT = re.compile(r"\bwith [\w-]+ (?:through|diverging|left|right)\b(?!-)")
BARE = re.compile(r"(?<![(\w])[\w-]+'s (?:through|diverging|left|right) (?:closure|stock|frog) rail\b")


@pytest.mark.parametrize("rule", [rule for rule in all_rules() if rule.turn and rule.fails], ids=lambda rule: rule.name)
def test_no_finding_speaks_as_the_graph_does(rule: Rule) -> None:
    """Settings as a person says them, and metal by where it lies before it is called by its name alone."""
    for finding in inspect(gather("p", lambda path: rule.fails)).findings:
        texts = [finding.message, *(step.text for step in finding.why), *(fix.words for fix in finding.fixes)]
        assert not any(EXACT.search(re.sub("`[^`]*`", "", text)) for text in texts)
        told = " ".join(texts)
        for name in {one[0] for one in BARE.finditer(told)}:
            assert 0 <= told.find(f"({name}") < told.find(name, told.find(f"({name}") + 2), name
        assert bool(finding.setting) == bool(finding.positions)


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
