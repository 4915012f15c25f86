"""How small and how sure the papers for the bench are: probes against trying everything, and mistakes found."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from pathlib import Path
from random import Random
from time import process_time

from bench.member import Searched, names, question, searches
from bench.readings import facts, facts_at
from benchmark.timing import Measure
from oracle.plans import big_layout, random_sound
from railbond.bench.fault_search import FaultSearch
from railbond.bench.observation import Observation
from railbond.bench.sheet import Sheet, sheet_of

EXAMPLES = sorted((Path(__file__).parents[2] / "example_plans").glob("*.trackplan"))
WITHIN = 12
PLANS = 30
TURNOUTS = 50
LARGE = 60


def measures() -> Iterator[Measure]:
    """Sheets of the examples, of random plans and of a large layout; then searches, and how long one waits."""
    rng = Random(1)
    yield from sheets("the examples", [sheet_of(facts_at(str(path))) for path in EXAMPLES])
    yield from sheets(f"{PLANS} random plans", [sheet_of(facts(random_sound(rng, 6))) for _ in range(PLANS)])
    before = process_time()
    large = [sheet_of(facts(big_layout(TURNOUTS)))]
    yield from sheets(f"a layout of {TURNOUTS} turnouts ({process_time() - before:.1f} s)", large)
    yield found("a breaker that trips or an engine that dies", list(searches(6, 10)), least=0.95)
    yield slowest_answer()


def sheets(what: str, several: list[Sheet]) -> Iterator[Measure]:
    """Probes in all against those of sheets that try everything by itself, and against the bound."""
    probes = sum(len(one.probes) for one in several)
    mistakes = sum(len(one.mistakes) for one in several)
    unproven = sum(len(one.unproven) for one in several)
    seen = mistakes - unproven - sum(len(one.unseen) for one in several)
    naive, fewest = sum(one.naive for one in several), sum(one.fewest for one in several)
    yield Measure(f"{what}: {probes} probes / {naive} that try everything", probes / naive, most=0.5)
    yield Measure(f"{what}: {probes} probes / {fewest} at least needed", probes / fewest, most=1.5)
    yield Measure(f"{what}: {seen} mistakes shown / {mistakes}, {unproven} not proven", seen / mistakes)


def found(start: str, several: list[Searched], least: float) -> Measure:
    """The share of searches that ended within twelve readings with the true mistake among those left."""
    actions = Counter(one.actions for one in several)
    good = [one for one in several if one.actions <= WITHIN and one.true.words in names(one)]
    spread = ", ".join(f"{number}: {times}" for number, times in sorted(actions.items()))
    alone = sum(one.step.end == "found" for one in several)
    words = f"{len(several)} mistakes found from {start} within {WITHIN} readings ({alone} alone; readings: {spread})"
    return Measure(words, len(good) / len(several), least=least)


def slowest_answer() -> Measure:
    """The longest that a search waits for what to do next, on a large layout with a pair of wires swapped."""
    search = FaultSearch(facts(big_layout(LARGE)))
    search.see(Observation("trips", True, dict(search.chooser.stands[0])))
    answer, symptom, slowest = search.diagnosis.prediction.answer, search.observed[0], 0.0
    swapped = (one for one in search.diagnosis.singles if one.kind == "swapped pair")
    true = next(one for one in swapped if answer(one, symptom))
    while True:
        before = process_time()
        step = search.step()
        slowest = max(slowest, process_time() - before)
        if step.end:
            return Measure(f"the slowest answer of a search at {LARGE} turnouts / 1 s", slowest, most=1.0)
        search.answer(step, answer(true, question(search, step)))
