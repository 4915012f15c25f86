"""How small and how sure the papers for the bench are: probes against trying everything, and mistakes found."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from pathlib import Path
from random import Random
from time import process_time

from bench.member import Search, searches
from bench.readings import facts, facts_at
from benchmark.timing import Measure
from oracle.plans import big_layout, random_sound
from railbond.bench.sheet import Sheet, sheet_of

EXAMPLES = sorted((Path(__file__).parents[2] / "example_plans").glob("*.trackplan"))
WITHIN = 8
PLANS = 30
TURNOUTS = 50


def measures() -> Iterator[Measure]:
    """Sheets of the examples, of random plans and of a large layout; then searches from three starts."""
    rng = Random(1)
    yield from sheets("the examples", [sheet_of(facts_at(str(path))) for path in EXAMPLES])
    yield from sheets(f"{PLANS} random plans", [sheet_of(facts(random_sound(rng, 6))) for _ in range(PLANS)])
    before = process_time()
    large = [sheet_of(facts(big_layout(TURNOUTS)))]
    yield from sheets(f"a layout of {TURNOUTS} turnouts ({process_time() - before:.1f} s)", large)
    yield found("the sheet's first wrong reading", list(searches(5, PLANS, 3, "sheet")), least=0.95)
    yield found("a breaker that trips or an engine that dies", list(searches(6, PLANS, 3, "symptom")), least=0.95)
    yield found("nothing", list(searches(7, PLANS, 2, "nothing")), least=None)


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


def found(start: str, several: list[Search], least: float | None) -> Measure:
    """The share of searches that ended within eight probes with the true mistake among those left."""
    probes = Counter(one.probes for one in several)
    good = [one for one in several if one.probes <= WITHIN and any(cause.mistake is one.true for cause in one.left)]
    spread = ", ".join(f"{number}: {times}" for number, times in sorted(probes.items()))
    alone = sum(len(one.left) == 1 for one in several)
    words = f"{len(several)} mistakes found from {start} within {WITHIN} probes ({alone} alone; probes: {spread})"
    return Measure(words, len(good) / len(several), least=least)
