"""How long a picture takes, how large it is for its track, and how it is shaped."""

from __future__ import annotations

import gc
import re
from collections.abc import Iterator
from pathlib import Path
from random import Random
from statistics import median
from time import process_time

from benchmark.railroads import ladders, main_line, throat, yards
from benchmark.timing import Measure, seconds
from oracle.plans import random_wild
from railbond.circuit.facts import Facts
from railbond.faces.drawing.picture import PictureChoice, draw
from trackplan.read import read
from trackplan.span import Source

EXAMPLES = Path(__file__).parents[2] / "example_plans"
BARE = PictureChoice("", legend=False, listed=False)
SIDINGS, SLIPS = 500, 200
GOAL = 3.0
"""Seconds for 1,000 turnouts."""
OLD = {"example": 21_500.0, "random plan": 34_700.0}
"""Square units for a meter of track, the median, as drawings were before lanes were shared."""
FLATTEST = 6.0


def measures() -> Iterator[Measure]:
    """Time, area beside what it was, and the flattest picture whose track is no line."""
    gc.set_threshold(5_000_000)  # as the command does
    draw(facts_of(sidings(3)), (), None, BARE)
    large = {
        "passing sidings with 1,000 turnouts": sidings(SIDINGS), "ladders with 1,000 turnouts": ladders(2 * SIDINGS),
        "main line with 1,000 turnouts": main_line(2 * SIDINGS), "yards with 1,000 turnouts": yards(2 * SIDINGS),
        "throat of 200 slips": throat(SLIPS),
    }  # fmt: skip
    for name, text in large.items():
        facts = facts_of(text)
        taken = seconds(lambda facts=facts: draw(facts, (), None, BARE), process_time)
        yield Measure(f"{name}, time / {GOAL:g} s ({taken:.1f} s)", taken / GOAL, most=1)
        width, height = size(facts)
        yield Measure(f"{name}, width / height", width / height, most=FLATTEST)
    examples = [path.read_text(encoding="utf-8") for path in sorted(EXAMPLES.glob("*.trackplan"))]
    plans = {"example": examples, "random plan": [random_wild(Random(seed), seed % 9) for seed in range(60)]}
    for name, texts in plans.items():
        found = [one for text in texts if (one := area(facts_of(text)))]
        yield Measure(f"area for a meter of track of {name}s, median / before ({median(found):.0f})",
                      median(found) / OLD[name], most=1)  # fmt: skip
    shapes = [width / height for width, height in map(size, map(facts_of, examples)) if height]
    yield Measure("the flattest example, width / height", max(shapes), most=FLATTEST)


def facts_of(text: str) -> Facts:
    source = Source("plan", text)
    reading = read(source)
    return Facts(reading.statements, {"plan": source}, reading.broken)


def sidings(count: int) -> str:
    """So many passing sidings one after the other: two turnouts each."""
    lines = ["booster B1 15 V 5 A", "district main from B1", "segment s0 stop -> A1.points 1 m"]
    for k in range(1, count + 1):
        lines += [
            f"turnout A{k} left number 6 isolated-frog", f"turnout E{k} right number 6 isolated-frog",
            f"segment m{k} A{k}.through -> E{k}.through 2 m", f"segment p{k} A{k}.diverging -> E{k}.diverging 2 m",
            f"segment s{k} E{k}.points -> {f'A{k + 1}.points' if k < count else 'stop'} 1 m", f"feeder main -> m{k}",
        ]  # fmt: skip
    return "\n".join(lines) + "\n"


def size(facts: Facts) -> tuple[float, float]:
    found = re.search(r' width="(\d+)" height="(\d+)"', draw(facts, (), None, BARE))
    assert found
    return float(found[1]), float(found[2])


def area(facts: Facts) -> float:
    """Square units for a meter of track; 0 where there is none."""
    meters = sum(piece.template.length for piece in facts.layout.pieces.values())
    width, height = size(facts)
    return width * height / meters if meters else 0.0
