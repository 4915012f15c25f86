"""Mends of plans full of faults end: what takes more than it may is cut short in the midst of it, and nothing is half
made."""

from __future__ import annotations

from functools import partial
from random import Random

import pytest

from oracle.plans import random_wild
from railbond import inspection
from railbond.circuit.effort import Budget, at_most, is_scarce, is_spent, ration, rationing, sparing, spend, spent
from railbond.circuit.facts import Facts
from railbond.explaining.search import EFFORT, explain
from railbond.inspection import as_written
from railbond.mend import fewest, rounds
from railbond.mend.difference import comments
from railbond.mend.overlay import Overlay
from railbond.rules import all_rules
from trackplan.gather import gather

FULL = random_wild(Random(1008), 4)


def test_what_makes_an_answer_better_is_left_out_once_it_took_long() -> None:
    assert not is_scarce()
    with sparing(10):
        assert not is_scarce()
        spend(11)
        assert is_scarce()
        with sparing(10):
            assert not is_scarce()
        assert is_scarce()
    assert not is_scarce()


def test_what_is_rationed_is_never_more_than_somebody_outside_has_left() -> None:
    with rationing(10):
        assert ration() == 10
        with rationing(100), sparing(20):
            spend(4)
            assert ration() == 6
            spend(7)
            assert ration() == -1
        with sparing(5):
            assert ration() == -1
    assert ration() > 1_000_000


def test_a_plan_that_slips_do_not_explain_is_given_up_early() -> None:
    """Thirty sidings, each fed against its main line: three slips cannot be behind that."""
    lines = ["booster B1 15 V 5 A", "district main from B1"]
    for nth in range(30):
        lines += [f"segment a{nth} stop -> b{nth}.start 1 m", f"segment b{nth} a{nth}.end -> stop 1 m"]
        lines += [f"feeder main -> a{nth}", f"feeder main -> b{nth} crossed"]
    gathered = gather("p", {"p": "\n".join(lines) + "\n"}.__getitem__)
    facts = Facts(gathered.statements, gathered.sources, gathered.broken)
    written = as_written(facts, rules=all_rules())
    before = spent()
    explanation = explain(facts.in_trial(), written, partial(as_written, rules=all_rules()))
    assert not explanation.slips and spent() - before < EFFORT * 0.7


@pytest.mark.parametrize("budget", [0.0, 300.0, 3_000.0])
def test_a_trial_is_cut_short_in_the_midst_of_it(budget: float, monkeypatch: pytest.MonkeyPatch) -> None:
    for room in (rounds, fewest):
        monkeypatch.setattr(room, "BUDGET", budget)
        monkeypatch.setattr(room, "LAST", 50.0)
    overlay = Overlay(["p"], {"p": FULL}.__getitem__)
    assert overlay.inspection("p").findings
    before = spent()
    with at_most(100_000):
        mended = rounds.mend(overlay)
    assert spent() - before < 60_000 and Budget(1).left <= 1
    assert bool(overlay.texts) == bool(mended.made), "what is told to be made is"
    assert comments(overlay.open_text("p")) == comments(FULL)
    assert all(one.why for one in mended.left)


def test_where_all_steps_are_taken_causes_are_told_at_once(monkeypatch: pytest.MonkeyPatch) -> None:
    """No cause waits then until those before it are mended: less is worked out, and errors are told all the same."""
    gathered = gather("p", {"p": FULL}.__getitem__)
    before = spent()
    whole = inspection.inspect(gathered)
    usual = spent() - before
    for name in ("PLENTY", "A_LINE", "LAST"):
        monkeypatch.setattr(inspection, name, 0.0)
    before = spent()
    at_once = inspection.inspect(gathered)
    assert spent() - before < usual / 2
    for found in (whole, at_once):
        assert any(one.level == "error" for one in found.findings)
    known = {(one.rule, one.at) for one in whole.known}
    assert {(one.rule, one.at) for one in at_once.findings if one.level == "error"} <= known


def test_the_last_steps_are_counted_from_those_that_are_plenty() -> None:
    with sparing(10, 5):
        spend(12)
        assert is_scarce() and not is_spent()
        spend(4)
        assert is_spent()
    assert not is_spent()
