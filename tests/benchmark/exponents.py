"""How each room grows with the railroad: the exponent between two sizes, kind by kind, each with its seconds.

An exponent of 1 is twice the time for twice the railroad. Beside them stands what nothing can be faster than: to read
the text and cut it into words once. A throat of slips is the hard one: every track crosses every other.
"""

from __future__ import annotations

import gc
from collections.abc import Callable, Iterator
from functools import partial
from itertools import islice
from math import log
from random import Random
from time import process_time
from typing import NamedTuple

from benchmark.meets import whole
from benchmark.railroads import KINDS, shorted
from benchmark.timing import Measure, Work, seconds
from oracle.plans import seed_faults
from railbond.bench.sheet import sheet_of
from railbond.circuit.facts import Facts
from railbond.circuit.running.answers import running
from railbond.doorway import enter
from railbond.explaining.admitted import without_metal
from railbond.explaining.catalog import slips
from railbond.explaining.conflicts import reasons
from railbond.explaining.search import MOST_CONFLICTS
from railbond.faces.drawing import staging
from railbond.faces.drawing.lately import PICTURES, Lately
from railbond.faces.drawing.part_layout import laid_out
from railbond.faces.drawing.picture import draw
from railbond.findings import Finding
from railbond.inspection import as_written
from railbond.mend.overlay import Overlay
from railbond.mend.rounds import mend
from railbond.rules import all_rules
from trackplan.parse import WORDS
from trackplan.read import forget, read
from trackplan.span import Source

MOST = 1.1
HARD = {"throat of slips": 1.6}
ENGINE = "engine goat left 0 31 62 mm right 0 31 62 mm 0.4 A\n"


def processor(work: Work) -> float:
    """The processor's seconds."""
    return seconds(work, process_time)


class Growth(NamedTuple):
    """What is timed, on what is made ready of a text without being timed, at which two numbers of turnouts, and the
    same for slips, of which few are many."""

    ready: Callable[[str], object]
    work: Callable[..., object]
    turnouts: tuple[int, int]
    slips: tuple[int, int]

    def taken(self, text: str, measured: Callable[[Work], float] = processor) -> float:
        """What is measured while it is done."""
        return measured(partial(self.work, self.ready(text)))


def facts_of(text: str) -> Facts:
    return enter("plan", {"plan": text}.__getitem__).facts


def unread(text: str) -> Source:
    forget()
    return Source("plan", text)


def wired(text: str) -> Facts:
    facts = facts_of(text)
    assert facts.graph
    return facts


def proven(facts: Facts) -> None:
    assert not facts.shorts and not facts.opposed and not facts.minglings
    for rail in facts.graph.rails:
        facts.proof.reachable(rail)


def stalled(facts: Facts) -> object:
    return running(facts).stalls, running(facts).single_wheels


def undrawn(text: str) -> Facts:
    """The facts, and nothing of any picture before is known."""
    laid_out.cache_clear()
    staging.KNOWN.kept.clear()
    for one in (one for one in gc.get_objects() if isinstance(one, Lately)):
        for _ in range(PICTURES):
            one.turn_over()
    return wired(text)


def faulty(text: str) -> Overlay:
    """A fault to every twenty turnouts."""
    spoilt, _ = seed_faults(text, max(1, text.count("\nturnout") // 20), Random(1))
    return Overlay(["plan"], {"plan": spoilt}.__getitem__)


def found(text: str) -> tuple[Facts, list[Finding]]:
    """Wires that are too thin for a short to trip its breaker, and what is told of it."""
    facts = wired(shorted(text))
    told = [one for one in as_written(facts, rules=all_rules()) if one.level != "note"]
    assert told
    return facts, told


def slips_proposed(told: tuple[Facts, list[Finding]]) -> list[int]:
    """How many slips of the hand may explain each of the first findings; none of them is tried."""
    kinds = without_metal(*told)
    return [len(slips(told[0], one, kinds, units=True)) for one in islice(reasons(*told), MOST_CONFLICTS)]


ROOMS = {
    "cut into words": Growth(str, WORDS.findall, (1_000, 10_000), (16, 64)),
    "parse": Growth(unread, read, (1_000, 10_000), (16, 64)),
    "layout": Growth(facts_of, lambda facts: facts.layout, (1_000, 10_000), (16, 64)),
    "proof": Growth(wired, proven, (1_000, 10_000), (16, 64)),
    "power": Growth(lambda text: wired(shorted(text)), lambda facts: facts.power.worst, (300, 3_000), (16, 64)),
    "running": Growth(lambda text: wired(text + ENGINE), stalled, (300, 3_000), (16, 64)),
    "whole inspection": Growth(
        str, lambda text: enter("plan", {"plan": text}.__getitem__).proven, (1_000, 10_000), (16, 64)
    ),
    "slips proposed": Growth(found, slips_proposed, (300, 3_000), (16, 64)),
    "mends": Growth(faulty, mend, (120, 480), (4, 9)),
    "drawing": Growth(undrawn, draw, (100, 400), (9, 36)),
    "meter": Growth(wired, sheet_of, (100, 400), (9, 36)),
}


def measures() -> Iterator[Measure]:
    """Room by room and kind by kind; and a meet of 20 and of 200 modules."""
    gc.set_threshold(5_000_000)  # as the command does
    for room, growth in ROOMS.items():
        for kind, make in KINDS.items():
            sizes = growth.slips if kind in HARD else growth.turnouts
            taken = [growth.taken(make(size)) for size in sizes]
            yield exponent(f"{room}, {kind}", sizes, taken, HARD.get(kind, MOST))
    meet = Growth(int, whole, (20, 200), (20, 200))
    yield exponent("a meet, modules", (20, 200), [meet.taken("20"), meet.taken("200")], MOST)


def exponent(what: str, sizes: tuple[int, int], taken: list[float], most: float) -> Measure:
    small, large = (max(seconds, 1e-4) for seconds in taken)
    told = f"exponent of {what} ({sizes[0]}: {taken[0]:.3g} s, {sizes[1]}: {taken[1]:.3g} s)"
    return Measure(told, log(large / small) / log(sizes[1] / sizes[0]), most)
