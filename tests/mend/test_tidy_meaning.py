"""Tidy text means the same: the rail graph before and after, on random plans typed carelessly."""

from __future__ import annotations

from random import Random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mend.sameness import same_rails
from oracle.plans import wild_plans
from trackplan.span import Source
from trackplan.tidy import tidy


def careless(text: str, dice: Random) -> str:
    """Blanks and tabs at random between words, blank lines between lines, some lines broken over two."""
    lines = []
    for line in text.split("\n"):
        words = line.split("  ") if '"' not in line else [line]
        blank = dice.choice((" ", "   ", "\t", "\n    "))
        lines.append(blank.join(word for word in words if word.strip()) if line[:1] != "#" else line)
        lines += [""] * dice.choice((0, 0, 0, 3))
    return "\n".join(lines)


@given(wild_plans(max_turnouts=4), st.randoms(use_true_random=False))
def test_the_rail_graph_is_the_same_and_a_second_run_changes_nothing(plan: str, dice: Random) -> None:
    text = careless(plan, dice)
    new = tidy(Source("plan", text))
    assert same_rails("plan", text, new)
    assert same_rails("plan", plan, new)
    assert tidy(Source("plan", new)) == new


@pytest.mark.parametrize(("old", "new"), [("1 m", "2 m"), ("-> a", "-> a  crossed"), ("stop -> J", "J -> stop")])
def test_another_railroad_is_told_from_the_same(old: str, new: str) -> None:
    plan = "district main  from B1\nbooster B1 15 V 5 A\nsegment a stop -> J 1 m\nsegment b J -> stop 1 m\n"
    plan += "gap a at 50 cm left rail\nfeeder main -> b\nfeeder main -> a.left\n".replace("a.left", "a at 20 cm")
    assert same_rails("plan", plan, plan)
    assert not same_rails("plan", plan, plan.replace(old, new, 1))
