"""What is built from the schedule, line by line, is joined to the supplies exactly as was proven."""

from __future__ import annotations

import os
from itertools import islice
from pathlib import Path
from random import Random

import pytest

from bench.readings import facts
from oracle.plans import random_sound, random_wild
from railbond.bench.jobs import jobs
from railbond.circuit.facts import Facts
from railbond.doorway import enter
from railbond.faces.schedule_csv import rows
from trackwork.mixed import random_mixed

from . import samples
from .against import Same, settings
from .paper import Builder, rows_of

EXAMPLES = sorted((Path(__file__).parents[2] / "example_plans").rglob("*.trackplan"))
THOROUGH = os.environ.get("HYPOTHESIS_PROFILE") == "thorough"
RANDOM = 2000 if THOROUGH else 200


def check(plan: Facts, rng: Random, jumpered: bool = False, most: int = 48) -> None:
    """Builds a plan from its schedule as CSV, and compares every setting."""
    table = rows_of(rows(jobs(plan), [], plan.sources))
    builder = Builder(jumpered)
    bench = builder.build(table)
    builder.changeovers()
    same = Same(plan, bench)
    assert bench.positions.items() >= {k: v for k, v in plan.graph.positions.items() if k in bench.things}.items()
    for setting in settings(plan.graph, rng, most):
        different = same.differences(setting)
        assert not different, (setting, different)


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_every_example(path: Path) -> None:
    plan = enter(str(path), lambda one: Path(one).read_text(encoding="utf-8")).facts
    check(plan, Random(1))


def ways() -> list[tuple[str, tuple[str, ...], list[str], str]]:
    return [
        (line, ends, worked, feed)
        for line, ends in samples.kinds()
        for worked in samples.work(line)
        for feed in samples.feeds(line)
    ]


@pytest.mark.parametrize("part", range(8))
def test_every_kind_in_every_way_to_build_cut_bond_and_feed_it(part: int) -> None:
    """Gaps at random ends; all of them in the thorough profile."""
    rng = Random(part)
    for line, ends, worked, feed in ways()[part::8]:
        every = list(samples.gaps(ends))
        for cut in every if THOROUGH else rng.sample(every, 1):
            text = samples.plan(line, ends, worked, feed, cut)
            try:
                for jumpered in (False, True):
                    check(facts(text), rng, jumpered, 16)
            except AssertionError as error:
                raise AssertionError(text) from error


@pytest.mark.parametrize("part", range(4))
@pytest.mark.parametrize("make", ["sound", "wild", "mixed"])
def test_random_plans(make: str, part: int) -> None:
    for seed in islice(range(part, RANDOM, 4), 0, None, 3):
        rng = Random(seed)
        text = (
            random_mixed(rng)
            if make == "mixed"
            else (random_sound if make == "sound" else random_wild)(rng, rng.randint(1, 6))
        )
        plan = facts(text)
        try:
            check(plan, rng)
        except AssertionError as error:
            raise AssertionError(text) from error
