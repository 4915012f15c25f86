"""From what was seen to what is wrong."""

from __future__ import annotations

from itertools import combinations
from pathlib import Path

import pytest

from bench.member import searches
from bench.readings import facts_at, labels, partition
from railbond.bench.diagnosis import NOTHING, Diagnosis, contradictions
from railbond.bench.information import Chooser, entropy
from railbond.bench.mistake import together
from railbond.bench.observation import Observation, Resolver
from trackplan.seen import read_seen
from trackplan.span import Source

SIDING = str(Path(__file__).parents[2] / "example_plans" / "passing_siding.trackplan")
WITHIN = 8


def observed(diagnosis: Diagnosis, text: str) -> list[Observation]:
    seen, broken = read_seen(Source("p", text))
    resolver = Resolver(diagnosis.facts, diagnosis.points)
    found = [one for one in map(resolver.resolve, seen) if one]
    assert not broken and not resolver.broken
    return found


@pytest.mark.parametrize("start", ["sheet", "symptom"])
def test_a_single_mistake_is_found_within_eight_probes(start: str) -> None:
    """Found: it explains everything, and so do only those that no probe of the sheet's settings tells from it."""
    found = list(searches(7, plans=10, each=2, start=start))
    good = [one for one in found if one.probes <= WITHIN and any(cause.mistake is one.true for cause in one.left)]
    assert len(found) >= 8
    assert len(good) >= 0.95 * len(found)


def test_what_is_left_cannot_be_told_apart_by_any_reading_of_the_sheets_settings() -> None:
    for one in searches(3, plans=6, each=2, start="sheet"):
        graph = one.diagnosis.facts.graph
        for stand in one.sheet.stands:
            metal = {frozenset(partition(labels(graph, cause.mistake, stand.setting))) for cause in one.left}
            assert len(metal) == 1, [cause.mistake.words for cause in one.left]


def test_swapped_contacts_are_named_first() -> None:
    diagnosis = Diagnosis(facts_at(SIDING))
    seen = observed(diagnosis, "beeps P1.red and T1.frog with T1 diverging\nsilent P1.red and T1.frog")
    assert diagnosis.causes(seen)[0].mistake.words == "the frog contacts of T1 are swapped"


def test_symptoms_tell_as_well() -> None:
    """With a frog wire missing no breaker trips, and an engine dies on the turnout whichever way it is set."""
    diagnosis = Diagnosis(facts_at(SIDING))
    seen = observed(diagnosis, "holds main\nengine dies at T1 through\ndies at T1 diverging\nruns at west")
    fitting = [one.mistake.words for one in diagnosis.causes(seen) if not one.misses]
    assert fitting == ["the wire from the contacts to T1's frog is missing or makes no contact"]


def test_two_mistakes_are_found_where_one_does_not_explain_all() -> None:
    diagnosis = Diagnosis(facts_at(SIDING))
    true = together(
        next(one for one in diagnosis.singles if one.kind == "drop on the wrong leg"),
        next(one for one in diagnosis.singles if one.kind == "missing contact wire" and "P1.black" in one.words),
    )
    asked = [Observation("trips", True, {"T1": "through", "T2": "through"})]
    for stand in ({"T1": at, "T2": "through"} for at in ("through", "diverging")):
        frog, *wires = (diagnosis.points.conductor[name] for name in ("T1.frog", "P1.red", "P1.black"))
        asked += [Observation("beeps", True, stand, (wire, frog)) for wire in wires]
    seen = [one._replace(answer=diagnosis.prediction.answer(true, one)) for one in asked]
    causes = diagnosis.causes(seen)
    assert all(diagnosis._cause(one, seen, 1.0).misses for one in (NOTHING, *diagnosis.singles))
    assert not causes[0].misses
    assert any(set(one.mistake.lost) == set(true.lost) for one in causes if not one.misses)


def test_nothing_seen_that_is_wrong_leaves_the_plan_as_it_is() -> None:
    diagnosis = Diagnosis(facts_at(SIDING))
    seen = observed(diagnosis, "holds main\nbeeps P1.red and west.left\nsilent P1.red and west.right")
    assert any(one.mistake is NOTHING for one in diagnosis.causes(seen) if not one.misses)


@pytest.mark.parametrize(
    ("text", "found"),
    [
        ("beeps P1.red and west.left\nsilent west.left and P1.red", 1),
        ("beeps P1.red and west.left\nbeeps west.left and P2.red\nsilent P1.red and P2.red", 1),
        ("trips main\nholds main", 1),
        ("beeps P1.red and T1.frog\nsilent P1.red and T1.frog with T1 diverging", 0),
        ("beeps P1.red and west.left\nsilent west.left and P2.red", 0),
    ],
)
def test_observations_that_cannot_all_be_are_told(text: str, found: int) -> None:
    diagnosis = Diagnosis(facts_at(SIDING))
    assert len(contradictions(observed(diagnosis, text))) == found


def test_the_next_probe_is_the_one_that_tells_the_most_of_all() -> None:
    """Against every pair of conductors in the settings it chooses from."""
    diagnosis = Diagnosis(facts_at(SIDING))
    seen = observed(diagnosis, "engine dies at T1 diverging")
    causes = diagnosis.causes(seen)
    fitting = [one for one in causes if one.misses == causes[0].misses]
    stands = [{"T1": at, "T2": "through"} for at in ("through", "diverging")]
    best = 0.0
    for stand in stands:
        walked = [labels(diagnosis.facts.graph, one.mistake, stand) for one in fitting]
        for a, b in combinations(range(len(walked[0])), 2):
            beeps = sum(one.weight for one, label in zip(fitting, walked, strict=True) if label[a] == label[b])
            best = max(best, entropy(beeps / sum(one.weight for one in fitting)))
    following = Chooser(diagnosis, stands).best(causes)
    assert following and following.information == pytest.approx(best)


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("beeps P1.rod and west.left", "did you mean P1.red"),
        ("trips man", "did you mean main"),
        ("holds main with T9 through", "no points are called `T9`"),
        ("holds main with T1 sideways", "can stand through or diverging, not `sideways`"),
        ("dies at wst", "did you mean west"),
    ],
)
def test_a_name_that_is_not_there_is_told_with_what_was_meant(text: str, expected: str) -> None:
    diagnosis = Diagnosis(facts_at(SIDING))
    resolver = Resolver(diagnosis.facts, diagnosis.points)
    (seen,), _ = read_seen(Source("p", text))
    assert resolver.resolve(seen) is None
    assert expected in resolver.broken[0].message
