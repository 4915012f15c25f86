"""Bare track that is wired: how long it takes beside one inspection of the result, and what it costs for the least."""

from __future__ import annotations

import gc
from collections.abc import Iterator
from math import log
from random import Random
from statistics import median
from time import process_time
from typing import NamedTuple

from benchmark.railroads import ladders, main_line, yards
from benchmark.timing import Measure
from design.stripping import bare
from design.tracks import KINDS, random_track
from railbond.design.wire import WiredPlan, wire
from railbond.inspection import inspect
from trackplan.gather import gather

FEW, MANY = 250, 1_000
SEEDS = 3


class Taken(NamedTuple):
    """Seconds of the processor for a wiring, and for one inspection of what it gave; what is left to find."""

    wiring: float
    inspecting: float
    left: int


def measures() -> Iterator[Measure]:
    """Ladders, yards and a main line, and random track of every kind. An inspection of a thousand turnouts takes one
    second where a processor is quiet, so that twenty of them are what a wirer may wait."""
    gc.set_threshold(5_000_000)  # as the command has it
    for kind in (ladders, yards, main_line):
        few, many = (taken(bare(kind(turnouts))) for turnouts in (FEW, MANY))
        name = f"{kind.__name__} of {MANY} turnouts"
        yield Measure(f"{name}: wiring / inspecting ({many.wiring:.1f} s)", many.wiring / many.inspecting, most=20)
        exponent = log(many.wiring / few.wiring) / log(MANY / FEW)
        yield Measure(f"{name}: growth exponent from {FEW} on", exponent, most=1.5)
        yield Measure(f"{name}: errors and warnings that are left", many.left, most=0)
    yield dearness()


def taken(text: str) -> Taken:
    """What the wiring of bare track takes."""
    start = process_time()
    plan = wired(text)
    between = process_time()
    inspect(gather("plan", {"plan": plan.text}.__getitem__))
    return Taken(between - start, process_time() - between, len(plan.left))


def dearness() -> Measure:
    """What wirings cost for the least that they can, where that is exact: the median."""
    plans = [wired(random_track(Random(seed), kind)) for seed in range(SEEDS) for kind in KINDS]
    ratios = [one.cost / one.bound.least for one in plans if one.bound.is_exact and one.bound.least]
    return Measure(f"cost / lower bound of {len(ratios)} random railroads: the median", median(ratios), most=1.1)


def wired(text: str) -> WiredPlan:
    return wire("plan", {"plan": text}.__getitem__)
