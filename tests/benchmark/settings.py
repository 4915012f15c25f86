"""Twelve turnouts, against walking all 4,096 settings."""

from __future__ import annotations

from collections.abc import Iterator
from random import Random

from benchmark.timing import Measure, medians
from oracle import brute
from oracle.plan_model import model_of
from oracle.plans import random_sound
from railbond.inspection import inspect
from trackplan.gather import gather

TURNOUTS = 12
QUESTIONS = (
    "ever_legs_joined", "ever_districts_joined", "set_against", "open_points", "never_fed",
    "fed_through_points", "unfed_frogs",
)  # fmt: skip


def measures() -> Iterator[Measure]:
    """Every question asked in every setting, against the proof of the same plan."""
    text = plan()
    taken = medians({"proof": lambda: proven(text), "brute": lambda: walked(text)}, rounds=3)
    yield Measure("brute force over all settings / the proof", taken["brute"] / taken["proof"], least=100)


def plan() -> str:
    """A sound plan of exactly twelve turnouts."""
    texts = (random_sound(Random(seed), TURNOUTS) for seed in range(1000))
    return next(text for text in texts if text.count("\nturnout") == TURNOUTS)


def proven(text: str) -> None:
    """Every rule asked of the plan, which must be sound."""
    inspection = inspect(gather("plan.trackplan", lambda path: text))
    assert not [one for one in inspection.findings if one.level == "error"], inspection.findings


def walked(text: str) -> None:
    """All answers of the brute force, one after the other."""
    brute.MOST_TURNOUTS = TURNOUTS
    walk = brute.Brute(model_of(text))
    for question in QUESTIONS:
        getattr(walk, question)
    walk.opposed_passes()
