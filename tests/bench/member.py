"""A member who made mistakes and looks for them: notes one thing that is wrong, then does what is asked for."""

from __future__ import annotations

import os
from collections.abc import Callable, Iterator
from functools import lru_cache
from pathlib import Path
from random import Random
from typing import NamedTuple

from bench.readings import facts, facts_at
from oracle.plans import random_sound
from railbond.bench.diagnosis import Diagnosis
from railbond.bench.fault_search import FaultSearch, NextMove
from railbond.bench.likelihood import often
from railbond.bench.mistake import Mistake, together
from railbond.bench.observation import Observation
from railbond.bench.prediction import NOTHING
from railbond.circuit.facts import Facts

EXAMPLES = Path(__file__).parents[2] / "example_plans"
THOROUGH = os.environ.get("HYPOTHESIS_PROFILE") == "thorough"
Answers = Callable[[Observation], bool]


class Searched(NamedTuple):
    """What was wrong, how many readings were asked for, and the search at its end."""

    true: Mistake
    actions: int
    search: FaultSearch
    step: NextMove


@lru_cache
def plans() -> list[Facts]:
    """Example plans that have wires, and some random ones; more of both in the thorough profile."""
    paths = sorted(EXAMPLES.glob("*.trackplan"))
    examples = [facts_at(str(path)) for path in (paths if THOROUGH else paths[1::3])]
    grown = [facts(random_sound(Random(seed), 3 + seed % 4)) for seed in range(20 if THOROUGH else 2)]
    return [plan for plan in (*examples, *grown) if plan.layout.drops]


@lru_cache
def diagnosis_of(nth: int) -> Diagnosis:
    return Diagnosis(plans()[nth])


def new_searches() -> list[FaultSearch]:
    """A search on each plan."""
    return [FaultSearch(plan, diagnosis=diagnosis_of(nth)) for nth, plan in enumerate(plans())]


def mistakes_of(diagnosis: Diagnosis, rng: Random, number: int) -> list[Mistake]:
    """Random mistakes, as often as each is made."""
    return rng.choices(diagnosis.singles, weights=[often(one.kind) for one in diagnosis.singles], k=number)


def symptoms(search: FaultSearch, true: Mistake) -> list[Observation]:
    """Whatever trips or stands still otherwise than the plan has it, with all points one way or the other."""
    asked = []
    for stand in search.chooser.stands:
        asked.append(Observation("trips", True, dict(stand), text="trips"))
        routes = ((name, search.resolver._route(name, dict(stand))) for name in search.diagnosis.facts.layout.pieces)
        asked += [Observation("runs", True, dict(stand), route=route, text=f"runs at {name}") for name, route in routes]
    answer = search.diagnosis.prediction.answer
    return [one._replace(answer=answer(true, one)) for one in asked if answer(true, one) != answer(NOTHING, one)]


def question(search: FaultSearch, step: NextMove) -> Observation:
    """What a step asks for."""
    if step.again:
        return step.again
    assert step.following
    ends = step.following.one, step.following.other
    return Observation("beeps", True, dict(step.following.stand), ends)


def looked_for(search: FaultSearch, answers: Answers, most: int = 60) -> tuple[int, NextMove]:
    """Answers what is asked for until there is an end."""
    actions = 0
    while True:
        step = search.step()
        if step.end or actions == most:
            return actions, step
        asked = question(search, step)
        right = answers(asked)
        search.answer(step, right if asked.kind == "beeps" else right == asked.answer)
        actions += 1


def searched(search: FaultSearch, true: Mistake, rng: Random, misread: int = 0) -> Searched | None:
    """A search from one symptom; None where nothing runs otherwise. Reading number `misread` is taken wrongly."""
    search = FaultSearch(search.diagnosis.facts, diagnosis=search.diagnosis)
    odd = symptoms(search, true)
    if not odd:
        return None
    search.see(rng.choice(odd))
    asked_for: list[Observation] = []

    def answers(asked: Observation) -> bool:
        asked_for.append(asked)
        return search.diagnosis.prediction.answer(true, asked) != (len(asked_for) == misread)

    actions, step = looked_for(search, answers)
    return Searched(true, actions, search, step)


def searches(seed: int, each: int) -> Iterator[Searched]:
    """Random single mistakes, looked for from a random symptom of theirs."""
    rng = Random(seed)
    for search in new_searches():
        found: list[Searched] = []
        for true in mistakes_of(search.diagnosis, rng, 6 * each):
            one = searched(search, true, rng) if len(found) < each else None
            found += [one] if one else []
        yield from found


def names(found: Searched) -> set[str]:
    """The mistakes that are named in the end."""
    return {one.words for cause in found.step.fitting for one in cause.mistake.both or (cause.mistake,)}


def two(search: FaultSearch, rng: Random) -> Mistake | None:
    """Two mistakes that have nothing to do with one another."""
    one, other = mistakes_of(search.diagnosis, rng, 2)
    seen = all(shows(search, mistake) for mistake in (one, other))
    return together(one, other) if seen and not set(one.lost) & set(other.lost) and one is not other else None


def shows(search: FaultSearch, mistake: Mistake) -> bool:
    """Whether any reading shows a mistake while nothing is off, with all points one way or the other."""
    return any(search.diagnosis.prediction.effect(mistake, stand) for stand in search.chooser.stands)
