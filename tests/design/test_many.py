"""Many railroads, stripped of all wiring, of half of it, and of none: a handful here, 600 in the thorough profile."""

from __future__ import annotations

import os
from random import Random
from statistics import median
from typing import NamedTuple

from design.grown import grown
from design.stripping import thinned
from design.tracks import KINDS, random_track
from railbond.design.wire import WiredPlan, wire
from railbond.inspection import inspect
from trackplan.gather import gather

THOROUGH = os.environ.get("HYPOTHESIS_PROFILE") == "thorough"
FIRST = int(os.environ.get("FIRST_SEED", "0"))
"""Where a run by hand begins, so that one of many plans can be made in several."""
EACH, GROWN, LINES = (46, 100, 60) if THOROUGH else (1, 3, 3)
UNAVOIDABLE = {"reverser-short-of-train", "stalls"}
"""What track itself may ask for: no section is as long as the train, or a dead frog is longer than an engine."""


class Held(NamedTuple):
    """What one railroad's wirings left to find, and what the first cost for the least that it can."""

    left: list[str]
    ratio: float


def wired(text: str) -> WiredPlan:
    plan = wire("plan", {"plan": text}.__getitem__)
    lines = iter(plan.text.splitlines())
    assert all(line in lines for line in text.splitlines()), "a line of the plan's own is changed"
    return plan


def found(text: str) -> list[str]:
    told = inspect(gather("plan", {"plan": text}.__getitem__)).findings
    return sorted(f"{one.rule} {one.names}" for one in told)


def held(text: str, rng: Random) -> Held:
    """One railroad: bare, with half of its wiring, with all of it; and without any one of the lines written."""
    whole = wired(text)
    again = wired(whole.text)
    assert not again.lines, f"a second run writes {again.lines[0].text}"
    before = found(whole.text)
    tried = [one for one in whole.lines if not one.text.startswith("bus plug")]  # without it P1 itself is the plug
    for line in rng.sample(tried, min(LINES, len(tried))):
        lines = whole.text.splitlines(keepends=True)
        lines.remove(next(one for one in lines if one.split() == line.text.split()))
        assert found("".join(lines)) != before, f"superfluous: {line.text}"
    half = wired(thinned("plan", whole.text, str, rng))
    left = [one.rule for plan in (whole, half) for one in plan.left]
    return Held(left, whole.cost / whole.bound.least if whole.bound.is_exact and whole.bound.least else 1.0)


def test_railroads_of_all_kinds_are_wired() -> None:
    """As many as are asked for of each kind, and of those that several kinds make together."""
    texts = [random_track(Random(100 * FIRST + seed), kind) for seed in range(EACH) for kind in KINDS]
    texts += [grown(Random(100 * FIRST + seed), 1 + seed % 5) for seed in range(GROWN)]
    each = [held(text, Random(7)) for text in texts]
    odd = [one.left for one in each if not UNAVOIDABLE.issuperset(one.left)]
    assert len(odd) <= 0.01 * len(each), odd
    assert sum(bool(one.left) for one in each) <= 0.03 * len(each)
    assert median(one.ratio for one in each) <= 1.1
    print(f"{len(each)} railroads: {sum(bool(one.left) for one in each)} leave something")
