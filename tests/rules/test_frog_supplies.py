"""A frog that is fed from elsewhere than its rails: plans as people write them, and every setting walked."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import settings as tried

from railbond.circuit.facts import Facts
from railbond.circuit.frog_supplies import FrogSupplies
from railbond.inspection import examine, inspect
from railbond.rules import all_rules
from trackplan.edit import apply
from trackplan.gather import gather
from trackplan.span import Source
from trackwork.mixed import mixed_plans
from trackwork.settings import potentials, settings
from trackwork.walking import facts_of, found_in

RULE = "frog-fed-from-elsewhere"
# A junction town: the main line, a branch behind its own breaker, and a detected yard. J stands in the main district.
TOWN = """\
booster  B1 15 V 5 A
booster  B2 15 V 5 A
district main  from B1
district branch from B1
district hill  from B2
block    yard in main
reverser R1 in main
segment  west stop -> J.points 2 m
turnout  J left isolated-frog
segment  east J.through -> stop 2 m
segment  spur J.diverging -> stop 1 m
feeder   main -> west
feeder   main -> east
"""
CABS = """\
cab     C1 12 V 1 A
cab     C2 12 V 1 A
block   A in C1 or C2
block   B in C1 or C2
segment west stop -> J.points 2 m
turnout J left isolated-frog
segment east J.through -> stop 2 m
segment spur J.diverging -> stop 1 m
feeder  A -> west
feeder  A -> east
feeder  A -> spur
"""


def told(text: str) -> list[tuple[str, str]]:
    """All that is found, but that R1 of the town feeds no track."""
    return [(one.rule, one.level) for one in found_in(text) if one.rule != "reverser-idle"]


@pytest.mark.parametrize(
    ("frog", "level"),
    [
        ("switched through main.red diverging main.black", ""),
        ("switched from stock rails", ""),
        ("automatic main", ""),
        ("switched through branch.red diverging branch.black", "warning"),
        ("switched through yard.red diverging yard.black", "warning"),
        ("switched through hill.red diverging hill.black", "error"),
        ("switched through R1.red diverging R1.black", "error"),
        ("switched through main.red diverging hill.black", "error"),
        ("automatic hill", "error"),
        ("automatic branch", "warning"),
        ("automatic R1", "error"),
    ],
)
def test_whose_supply_a_frog_has(frog: str, level: str) -> None:
    text = f"{TOWN}feeder main -> spur\nfrog J {frog}\n"
    assert told(text) == ([(RULE, level)] if level else [])


@pytest.mark.parametrize("district", ["main", "branch"])
def test_at_a_boundary_either_is_right(district: str) -> None:
    """A live frog cut from its frog rails, each of which belongs to the track beyond it: main before, branch behind."""
    text = TOWN.replace("left isolated-frog", "left live-frog")
    text = text.replace("feeder   main -> east", "feeder branch -> east") + "feeder branch -> spur\n"
    text += "bond J closure rails to stock rails\ncut J around frog without jumpers\n"
    text += "gap J.through stock rail\ngap J.diverging stock rail\n"
    text += f"frog J switched through {district}.red diverging {district}.black\n"
    assert told(text) == []


def test_a_frog_on_the_other_toggle_ties_two_cabs_together() -> None:
    assert told(CABS + "frog J switched through A.red diverging A.black\n") == []
    assert told(CABS + "frog J switched through B.red diverging B.black\n") == [(RULE, "error")]


@pytest.mark.parametrize("frog", ["switched through hill.red diverging main.black", "automatic hill trips 1 A"])
def test_the_mend_moves_the_wires_and_nothing_else(frog: str) -> None:
    text = f"{TOWN}feeder main -> spur\nfrog J {frog}\n"
    facts = facts_of(text)
    (found,) = (one for one in examine(facts, all_rules()) if one.rule == RULE)
    edits = found.fixes[0].edits
    assert {edit.text for edit in edits} <= {"main", "main.red", "main.black"}
    assert {one.level for one in examine(facts.revised(edits), all_rules())} == {"note"}


def test_a_crossing_of_two_boosters_tracks_suits_neither_and_may_be_left_dead() -> None:
    text = """\
booster B1 15 V 5 A
booster B2 15 V 5 A
district main from B1
district hill from B2
segment a0 stop -> X.a1 1 m
segment b0 stop -> X.b1 1 m
crossing X 19 degrees isolated-frog
segment a9 X.a2 -> stop 1 m
segment b9 X.b2 -> stop 1 m
feeder main -> a0
feeder main -> a9
feeder hill -> b0
feeder hill -> b9
frog X automatic main
"""
    assert told(text) == [(RULE, "error")] and told(text.replace("main\n", "hill\n")) == told(text)
    facts = facts_of(text)
    (found,) = (one for one in examine(facts, all_rules()) if one.rule == RULE)
    proven = [fix for fix in found.fixes if not examine(facts.revised(fix.edits), all_rules())]
    assert [fix.words.partition(",")[0] for fix in proven] == ["leave the frog of X without a wire"]


def test_a_section_with_its_frog_on_main_is_as_long_as_it_is() -> None:
    """The turnout and its tail are the section, 2.2 m and the turnout: no train of 1.9 m is longer than that."""
    (rule,) = (one for one in all_rules() if one.name == RULE)
    assert told(rule.fails + "train freight 1.9 m\n") == [(RULE, "error")]
    assert told(rule.passes + "train freight 1.9 m\n") == []


@given(mixed_plans())
@tried(max_examples=20)
def test_every_setting_walked(text: str) -> None:
    facts = facts_of(text)
    if facts.minglings or facts.shorts:
        return
    found = {(one.feed.name, one.number, one.position) for one in FrogSupplies(facts).elsewhere()}
    assert found == walked(facts)


def walked(facts: Facts) -> set[tuple[str, int, str]]:
    """By the definition: in some setting the frog has a supply that none of its rails has, and they have one."""
    names = facts.supply_of_wire
    found = set()
    for setting in settings(facts.graph):
        stands = dict(setting)
        carried = {
            one: {source.supply for source in sources if source.kind != "unit"}
            for one, sources in potentials(facts.graph, setting).items()
        }
        for feed in facts.layout.frogs.values():
            piece = facts.layout.pieces[feed.piece]
            for number in feed.frogs:
                metal = facts.wiring.metal(piece.name, piece.template.frogs[number].metal)
                own = carried[metal] | (
                    names.get(feed.supply or "", frozenset()) if feed.kind == "automatic" else set()
                )
                for at in piece.template.frogs[number].wants:
                    switch, how = facts.wiring.literal(piece.name, at)
                    if switch not in stands:  # moved with spring points, which only ever stand one way
                        assert not facts.layout.pieces[switch].template.positions[1:]
                        stands[switch] = how
                    beside = {one for door in doors(facts, metal, stands) for one in carried[door]}
                    if metal in facts.lone_frogs and stands[switch] == how and beside and own - beside:
                        found.add((feed.name, number, at))
    return found


def doors(facts: Facts, metal: int, stands: dict[str, str]) -> set[int]:
    unit = {metal}
    for bond in facts.graph.bonds:
        if bond.when is None and {bond.one, bond.other} <= facts.lone_frogs.keys() and metal in (bond.one, bond.other):
            unit |= {bond.one, bond.other}
    found = set()
    for roll in facts.graph.rolls:
        here = {roll.one, roll.other}
        own = [(switch, good) for switch, good in roll.needs if switch in stands]
        if here & unit and here - unit and all(stands[s] in good for s, good in own if _moves(facts, metal, s)):
            found |= here - unit
    return found


def _moves(facts: Facts, metal: int, switch: str) -> bool:
    piece = facts.piece_of(metal)
    positions = facts.layout.pieces[piece].template.positions
    return switch in {facts.wiring.literal(piece, at)[0] for at in positions}


def test_contacts_of_the_other_turnout_of_a_crossover_are_moved_to_the_frogs_own() -> None:
    """Its two names are one letter apart: the mend takes `with` out, and does not write its own name there."""
    text = """\
booster B1 15 V 5 A
district main from B1
segment u1 stop -> X1.points 1 m
turnout X1 left isolated-frog
segment u2 X1.through -> stop 1 m
segment d1 stop -> X2.through 1 m
turnout X2 left isolated-frog
segment d2 X2.points -> stop 1 m
joint X1.diverging -> X2.diverging
feeder main -> u1
feeder main -> u2
feeder main -> d1
feeder main -> d2
frog X1 switched from stock rails
frog X2 switched with X1 through main.black diverging main.red
"""
    (found,) = (one for one in inspect(gather("p", lambda path: text)).findings if one.level == "error")
    mended = apply(Source("p", text), found.fixes[0].edits)
    assert "frog X2 switched through main.black diverging main.red\n" in mended
    assert {one.level for one in inspect(gather("p", lambda path: mended)).findings} == {"note"}
