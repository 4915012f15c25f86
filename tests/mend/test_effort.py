"""Mends of plans full of faults end: what takes more than it may is cut short in the midst of it, and nothing is half
made."""

from __future__ import annotations

from random import Random

import pytest

from oracle.plans import random_wild
from railbond.circuit.effort import Budget, at_most, is_scarce, sparing, spend, spent
from railbond.mend import fewest, rounds
from railbond.mend.overlay import Overlay, comments

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


@pytest.mark.parametrize("budget", [0.0, 300.0, 3_000.0])
def test_a_trial_is_cut_short_in_the_midst_of_it(budget: float, monkeypatch: pytest.MonkeyPatch) -> None:
    for room in (rounds, fewest):
        monkeypatch.setattr(room, "BUDGET", budget)
        monkeypatch.setattr(room, "LAST", 50.0)
    monkeypatch.setattr(rounds, "A_LINE", 0.0)
    overlay = Overlay(["p"], {"p": FULL}.__getitem__)
    assert overlay.inspection("p").findings
    before = spent()
    with at_most(100_000):
        mended = rounds.mend(overlay)
    assert spent() - before < 60_000 and Budget(1).left <= 1
    assert bool(overlay.texts) == bool(mended.made), "what is told to be made is"
    assert comments(overlay.open_text("p")) == comments(FULL)
    assert all(one.why for one in mended.left)
