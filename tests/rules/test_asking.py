"""Asking never changes an answer: in whatever order rules are asked, and however often, they find the same."""

from __future__ import annotations

from pathlib import Path
from random import Random

import pytest

from railbond.circuit.facts import Facts
from railbond.circuit.running.answers import running
from railbond.doorway import enter
from railbond.findings import Found
from railbond.inspection import examine
from railbond.rules import all_rules, rule
from railbond.rules.asking import ask
from railbond.rules.rule import Rule

EXAMPLES = Path(__file__).parents[2] / "example_plans"
PLANS = sorted(path for path in EXAMPLES.rglob("*.trackplan") if path.parent.name != "meet")
# The frog is dead, and so is the spur behind it, which `unfed-rail` tells; the engine would stall on either.
STALLS = """\
plan      "Dead frog, dead spur"
scale     HO
booster   B1    15 V  5 A
district  main  from B1  trips 4 A
segment   lead  stop -> T1.points     90 cm
turnout   T1    left  number 6  dead-frog  dead 28 mm
segment   line  T1.through -> stop    90 cm
segment   dock  T1.diverging -> J     90 cm
segment   spur  J -> stop             90 cm
gap       J     both rails
feeder    main -> lead
feeder    main -> line
feeder    main -> dock
engine    switcher  left 0 18 mm  right 0 18 mm  0.3 A
accept    fed-through-points at T1 because "the club cleans its blades"
"""


def early(find: object) -> Rule:
    """A club's own rule that is asked before most others and finds nothing."""
    return Rule("club-early", "note", "on paper", 1, False, find, "", "", "", "", "", "")  # type: ignore[arg-type]


def nosy(facts: Facts) -> tuple[Found, ...]:
    """Asks about wheels, wires and loops before any other rule does."""
    assert running(facts).stalls is running(facts).stalls
    assert running(facts).single_wheels is not None and facts.swaps is not None and facts.power is not None
    return ()


def facts_of(text: str) -> Facts:
    return enter("plan", {"plan": text}.__getitem__).facts


@pytest.mark.parametrize("plan", PLANS, ids=lambda path: path.stem)
def test_random_order_twice_and_a_nosy_plug_in(plan: Path) -> None:
    """Each way of asking begins with fresh facts, and must end with the same findings."""

    def facts() -> Facts:
        return enter(str(plan), lambda path: Path(path).read_text(encoding="utf-8")).facts

    rules = list(all_rules())
    wanted = examine(facts(), rules)
    shuffled = Random(plan.stem).sample(rules, len(rules))
    assert examine(facts(), shuffled) == wanted
    assert examine(facts(), [*rules, early(nosy)]) == wanted
    asked = facts()
    assert examine(asked, rules) == wanted and examine(asked, shuffled) == wanted


@pytest.mark.parametrize("seed", range(4))
def test_each_rule_by_itself_finds_the_same_whatever_was_asked_before(seed: int) -> None:
    rules = Random(seed).sample(list(all_rules()), len(all_rules()))
    shared = facts_of(STALLS)
    for one in rules:
        alone = list(ask(one, facts_of(STALLS)))
        assert list(ask(one, shared)) == alone and list(ask(one, shared)) == alone, one.name


def test_dead_metal_that_is_told_is_not_told_again_by_an_engine() -> None:
    """The spur is told as dead, so the engine that stands on it is not; its frog nobody else tells."""
    told = {(one.rule, one.names[0]) for one in examine(facts_of(STALLS), all_rules()) if one.names}
    assert ("unfed-rail", "spur") in told and ("stalls", "T1") in told and ("stalls", "spur") not in told
    alone = {name for one in examine(facts_of(STALLS), [rule("stalls")]) for name in one.names}
    assert "spur" in alone, "asked by itself it tells all that it finds"


def test_an_engine_is_told_what_is_accepted_as_dead() -> None:
    text = STALLS + 'accept unfed-rail at spur because "storage"\n'
    told = {(one.rule, name) for one in examine(facts_of(text), all_rules()) for name in one.names}
    assert ("stalls", "spur") in told and ("unfed-rail", "spur") not in told


def test_facts_cannot_be_changed() -> None:
    facts = facts_of(STALLS)
    assert facts.wiring.owners and facts.neighbors
    for change in (
        lambda: setattr(facts, "statements", ()),
        lambda: setattr(facts, "live", frozenset()),
        lambda: setattr(facts, "layout", facts.layout),
        lambda: facts.neighbors.update({}),  # type: ignore[attr-defined]
        lambda: facts.sources.clear(),  # type: ignore[attr-defined]
        lambda: facts.shorts.append(None),  # type: ignore[attr-defined]
        lambda: facts.statements.clear(),  # type: ignore[attr-defined]
    ):
        with pytest.raises(AttributeError):
            assert facts.layout
            change()


def test_whoever_asks_puts_name_level_and_happening_on() -> None:
    found = Found(facts_of(STALLS).statements[0].at, "so it is")
    worse = found._replace(level="error", happens="heat")
    own = early(lambda facts: [found, worse])
    told = list(ask(own, facts_of(STALLS)))
    assert [(one.rule, one.level, one.happens) for one in told] == [
        ("club-early", "note", "on paper"),
        ("club-early", "error", "heat"),
    ]
