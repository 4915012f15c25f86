"""Every place that a probe can touch has one name, and by that name it is found."""

from __future__ import annotations

from pathlib import Path
from random import Random

import pytest

from bench.readings import facts, facts_at
from oracle.plans import random_sound
from railbond.bench.test_points import TestPoints
from railbond.circuit.facts import Facts

EXAMPLES = sorted((Path(__file__).parents[2] / "example_plans").glob("*.trackplan"))

ALL_KINDS = """
booster   B1    15 V  5 A
district  main  from B1
slip      D1    double  isolated-frog
segment   a     stop -> D1.a1  1 m
segment   b     stop -> D1.b1  1 m
frog      D1    automatic main
feeder    main -> a
feeder    main -> b
"""


def check(plan: Facts) -> None:
    points = TestPoints(plan)
    assert set(points.name) == set(points.order) == set(range(len(plan.graph.names)))
    assert len(points.conductor) == len(points.name)


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_examples(path: Path) -> None:
    check(facts_at(str(path)))


def test_random_plans() -> None:
    for seed in range(5):
        check(facts(random_sound(Random(seed), 6)))


def test_two_frogs_of_one_piece_have_two_units() -> None:
    plan = facts(ALL_KINDS)
    check(plan)
    assert {"D1.unit", "D1.unit-2"} <= set(TestPoints(plan).conductor)


def test_one_comes_by_in_the_order_of_the_track() -> None:
    points = TestPoints(facts_at(str(next(path for path in EXAMPLES if path.stem == "detected_block"))))
    names = ("P1.red", "west.left", "D1.red", "span.left", "east.left")
    order = [points.order[points.conductor[name]] for name in names]
    assert order == sorted(order) and len(set(order)) == len(order)
