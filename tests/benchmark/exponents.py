"""How each room grows with the railroad: the exponent between two sizes, kind by kind, each with its seconds.

An exponent of 1 is twice the time for twice the railroad. Beside them stands what nothing can be faster than: to read
the text and cut it into words once. A throat of slips is the hard one: every track crosses every other.
"""

from __future__ import annotations

import gc
from collections.abc import Callable, Iterator
from math import log
from random import Random
from time import process_time
from typing import NamedTuple

from benchmark.meets import whole
from benchmark.railroads import KINDS, shorted
from benchmark.timing import Measure
from oracle.plans import seed_faults
from railbond.bench.sheet import sheet_of
from railbond.circuit.facts import Facts
from railbond.circuit.running.answers import running
from railbond.doorway import enter
from railbond.faces.drawing.picture import draw
from railbond.mend.overlay import Overlay
from railbond.mend.rounds import mend
from trackplan.parse import WORDS
from trackplan.read import forget, read
from trackplan.span import Source

MOST = 1.1
HARD = {"throat of slips": 1.6}
ENGINE = "engine goat left 0 31 62 mm right 0 31 62 mm 0.4 A\n"
Clocked = Callable[[str], float]


class Growth(NamedTuple):
    """What is timed, at which two numbers of turnouts, and the same for slips, of which few are many."""

    clocked: Clocked
    turnouts: tuple[int, int]
    slips: tuple[int, int]


def facts_of(text: str) -> Facts:
    return enter("plan", {"plan": text}.__getitem__).facts


def timed(ready: Callable[[str], object], work: Callable[..., object]) -> Clocked:
    """The processor's seconds for a work on what is made ready without being timed."""

    def clocked(text: str) -> float:
        made = ready(text)
        start = process_time()
        work(made)
        return process_time() - start

    return clocked


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


def faulty(text: str) -> Overlay:
    """A fault to every twenty turnouts."""
    spoilt, _ = seed_faults(text, max(1, text.count("\nturnout") // 20), Random(1))
    return Overlay(["plan"], {"plan": spoilt}.__getitem__)


ROOMS = {
    "cut into words": Growth(timed(str, lambda text: WORDS.findall(text)), (1_000, 10_000), (16, 64)),
    "parse": Growth(timed(unread, read), (1_000, 10_000), (16, 64)),
    "layout": Growth(timed(facts_of, lambda facts: facts.layout), (1_000, 10_000), (16, 64)),
    "proof": Growth(timed(wired, proven), (1_000, 10_000), (16, 64)),
    "power": Growth(timed(lambda text: wired(shorted(text)), lambda facts: facts.power.worst), (300, 3_000), (16, 64)),
    "running": Growth(timed(lambda text: wired(text + ENGINE), stalled), (300, 3_000), (16, 64)),
    "whole inspection": Growth(
        timed(str, lambda text: enter("plan", {"plan": text}.__getitem__).proven), (1_000, 10_000), (16, 64)
    ),
    "mends": Growth(timed(faulty, mend), (120, 480), (4, 9)),
    "drawing": Growth(timed(wired, draw), (100, 400), (9, 36)),
    "meter": Growth(timed(wired, sheet_of), (100, 400), (9, 36)),
}


def measures() -> Iterator[Measure]:
    """Room by room and kind by kind; and a meet of 20 and of 200 modules."""
    gc.set_threshold(5_000_000)  # as the command does
    for room, growth in ROOMS.items():
        for kind, make in KINDS.items():
            sizes = growth.slips if kind in HARD else growth.turnouts
            taken = [growth.clocked(make(size)) for size in sizes]
            yield exponent(f"{room}, {kind}", sizes, taken, HARD.get(kind, MOST))
    yield exponent("a meet, modules", (20, 200), [timed(int, whole)("20"), timed(int, whole)("200")], MOST)


def exponent(what: str, sizes: tuple[int, int], taken: list[float], most: float) -> Measure:
    small, large = (max(seconds, 1e-4) for seconds in taken)
    told = f"exponent of {what} ({sizes[0]}: {taken[0]:.3g} s, {sizes[1]}: {taken[1]:.3g} s)"
    return Measure(told, log(large / small) / log(sizes[1] / sizes[0]), most)
