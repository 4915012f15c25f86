"""Frogs of one piece that are fed each by itself, and those that can share one feed."""

from __future__ import annotations

from itertools import combinations

import pytest
from hypothesis import given
from hypothesis import settings as tried

from railbond.circuit.facts import Facts
from railbond.circuit.sharing import apart, shared
from trackplan.read import read
from trackplan.span import Source

from .mixed import mixed_plans
from .settings import conflict, potentials, settings
from .walking import around, facts_of, found_in

CROSSED = ("P.a1", "P.b1"), ("P.a2", "P.b2")
FORKED = ("P.points",), ("P.left", "P.through", "P.right")
KINDS = {
    "slip P double number 6 isolated-frog": (CROSSED, ["1", "2"], 2),
    "slip P single number 6 isolated-frog": (CROSSED, ["1", "2"], 2),
    "crossing P 30 degrees isolated-frog": (CROSSED, ["1", "2"], 2),
    "gauntlet P 60 cm isolated-frog": (CROSSED, ["1", "2"], 1),
    "three-way P symmetrical isolated-frog": (FORKED, ["C0", "C1", "C2"], 2),
}


def told(text: str) -> list[str]:
    return [one.rule for one in found_in(text)]


def faults(text: str) -> list[str]:
    source = Source("plan.trackplan", text)
    facts = Facts(read(source).statements, {source.path: source})
    return [fault.message for fault in facts.layout.faults]


@pytest.mark.parametrize("line", KINDS)
def test_as_many_feeds_as_the_frogs_need(line: str) -> None:
    """By hand: on a straight route the wheels of one frog are on the left rail and those of the other on the right one;
    a gauntlet's frogs both lie in the same rail. Set through, C1 and C2 of a three-way are met from different rails."""
    ends, frogs, feeds = KINDS[line]
    plan = around(line, *ends)
    facts = facts_of(plan)
    groups = shared(apart(facts.wiring, facts.proof, facts.layout.pieces["P"]), list(range(len(frogs))))
    assert len(groups) == feeds
    fed = facts_of(plan + "frog P automatic main\n")
    assert sum(source.kind == "unit" for source in fed.graph.sources.values()) == feeds
    assert told(plan + "frog P automatic main\n") == []
    assert told(plan + "".join(f"frog P.{frog} automatic main\n" for frog in frogs)) == []


@pytest.mark.parametrize("line", KINDS)
def test_a_frog_that_is_left_out_is_told_by_its_name(line: str) -> None:
    ends, frogs, _ = KINDS[line]
    text = around(line, *ends) + f"frog P.{frogs[0]} automatic main\n"
    (found,) = found_in(text)
    assert found.rule == "unfed-frog"
    added = [edit.text for edit in found.fixes[0].edits] + [edit.text for edit in found.fixes[-1].edits]
    assert all(any(f"frog P.{frog} " in text for text in added) for frog in frogs[1:])
    rest = "".join(f'frog P.{frog} unpowered because "short"\n' for frog in frogs[1:])
    assert told(text + rest) == []


def test_each_frog_may_be_fed_in_its_own_way() -> None:
    ends = KINDS["slip P double number 6 isolated-frog"][0]
    plan = around("slip P double number 6 isolated-frog", *ends)
    contacts = "switched through main.red diverging main.black"
    assert told(f"{plan}frog P.1 {contacts}\nfrog P.2 automatic main\n") == []
    assert told(f"{plan}frog P.1 {contacts}\nfrog P.2 switched from stock rails\n") == []
    backwards = "switched through main.black diverging main.red"
    assert told(f"{plan}frog P.1 {contacts}\nfrog P.2 {backwards}\n") == ["frog-wired-backwards"]


@pytest.mark.parametrize(
    ("lines", "message"),
    [
        ("frog P.3 automatic main", "`P.3` is no frog; expected `P` or `P.1` or `P.2`"),
        ("frog P automatic main\nfrog P.2 automatic main", "a frog has one feed"),
        ("frog P.2 automatic main\nfrog P automatic main", "a frog has one feed"),
        ("frog P.2 automatic main\nfrog P.2 switched from stock rails", "a frog has one feed"),
        ("frog Q.2 automatic main", "no turnout is called `Q"),
    ],
)
def test_what_is_no_frog_or_fed_already(lines: str, message: str) -> None:
    plan = around("slip P double number 6 isolated-frog", *CROSSED)
    (found,) = faults(f"{plan}{lines}\n")
    assert message in found


@given(mixed_plans())
@tried(max_examples=15)
def test_who_can_share_agrees_with_every_setting_walked(text: str) -> None:
    facts = facts_of(text)
    walked = [(dict(setting), potentials(facts.graph, setting)) for setting in settings(facts.graph)]
    for piece in facts.layout.pieces.values():
        found = {(one.one, one.other) for one in apart(facts.wiring, facts.proof, piece)}
        for (n, one), (m, other) in combinations(enumerate(piece.template.frogs), 2):
            both = [at for at in piece.template.positions if at in one.wants and at in other.wants]
            ever = any(
                stands[switch] == how
                and conflict(
                    carried[facts.wiring.metal(piece.name, one.wants[at])],
                    carried[facts.wiring.metal(piece.name, other.wants[at])],
                )
                for at in both
                for switch, how in [facts.wiring.literal(piece.name, at)]
                for stands, carried in walked
            )
            if not facts.shorts:
                assert ((n, m) in found) == ever
