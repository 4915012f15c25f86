"""A member who made one mistake and looks for it: works through the sheet to the first wrong reading, then asks."""

from __future__ import annotations

from collections.abc import Iterator
from random import Random
from typing import NamedTuple

from bench.readings import facts
from oracle.plans import random_sound
from railbond.bench.diagnosis import NOTHING, Cause, Diagnosis
from railbond.bench.information import Chooser
from railbond.bench.mistake import Mistake
from railbond.bench.observation import Observation, Resolver
from railbond.bench.sheet import Sheet, sheet_of


class Search(NamedTuple):
    """How many probes were asked for until no other could help, and the explanations that were left."""

    true: Mistake
    probes: int
    left: list[Cause]
    diagnosis: Diagnosis
    sheet: Sheet


def probe(diagnosis: Diagnosis, true: Mistake, one: int, other: int, stand: dict[str, str]) -> Observation:
    asked = Observation("beeps", True, dict(stand), (one, other))
    return asked._replace(answer=diagnosis.prediction.answer(true, asked))


def from_sheet(diagnosis: Diagnosis, sheet: Sheet, true: Mistake) -> list[Observation]:
    """The sheet's readings up to the first that is wrong."""
    found = []
    for stand in sheet.stands:
        for one in stand.probes:
            found.append(probe(diagnosis, true, one.one, one.other, dict(stand.setting)))
            if found[-1].answer != one.beeps:
                return found
    return found


def from_symptoms(diagnosis: Diagnosis, sheet: Sheet, true: Mistake, rng: Random) -> list[Observation]:
    """One thing that runs otherwise than the plan has it, if there is any: a breaker trips, or an engine dies."""
    resolver, asked = Resolver(diagnosis.facts, diagnosis.points), []
    for stand in (dict(one.setting) for one in sheet.stands):
        asked.append(Observation("trips", True, stand))
        routes = (resolver._route(name, stand) for name in diagnosis.facts.layout.pieces)
        asked += [Observation("runs", True, stand, route=route) for route in routes]
    answer = diagnosis.prediction.answer
    odd = [one._replace(answer=answer(true, one)) for one in asked if answer(true, one) != answer(NOTHING, one)]
    return [rng.choice(odd)] if odd else []


def searches(seed: int, plans: int, each: int, start: str) -> Iterator[Search]:
    """Random single mistakes in random plans, searched for from a start: `sheet`, `symptom` or `nothing`."""
    rng = Random(seed)
    for _ in range(plans):
        plan = facts(random_sound(rng, rng.randint(1, 8)))
        sheet, diagnosis = sheet_of(plan), Diagnosis(plan)
        hidden = {(one.lost, one.made) for one in (*sheet.unproven, *(one for one, _ in sheet.unseen))}
        shown = [one for one in diagnosis.singles if (one.lost, one.made) not in hidden]
        for true in rng.sample(shown, min(each, len(shown))):
            observed = from_sheet(diagnosis, sheet, true) if start == "sheet" else []
            observed = from_symptoms(diagnosis, sheet, true, rng) if start == "symptom" else observed
            if observed or start == "nothing":
                yield search(diagnosis, sheet, true, observed)


def search(diagnosis: Diagnosis, sheet: Sheet, true: Mistake, observed: list[Observation], most: int = 60) -> Search:
    """Asks for probe after probe and answers it as the mistake would."""
    chooser = Chooser(diagnosis, [one.setting for one in sheet.stands])
    told = len(observed)
    while True:
        causes = diagnosis.causes(observed)
        following = chooser.best(causes)
        if following is None or len(observed) - told == most:
            break
        observed = [*observed, probe(diagnosis, true, following.one, following.other, dict(following.stand))]
    return Search(true, len(observed) - told, [one for one in causes if not one.misses], diagnosis, sheet)
