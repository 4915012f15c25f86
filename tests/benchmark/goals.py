"""What people wait for at every size: the processor's seconds of each command, beside its goal.

All in one process that is warm, but every line read as if for the first time; `start` and `keystroke` measure what
a process and an editor cost.
"""

from __future__ import annotations

import gc
import os
import tempfile
from collections.abc import Iterator
from contextlib import redirect_stderr, redirect_stdout
from io import StringIO
from pathlib import Path
from random import Random
from re import fullmatch
from time import perf_counter, process_time
from typing import NamedTuple

from benchmark.railroads import ladders, main_line, shorted, throat, yards
from benchmark.timing import Measure
from oracle.plans import big_layout, random_sound, seed_faults
from railbond.command import main
from trackplan.read import forget

CLUB, CHANGED = 300, 2


class Row(NamedTuple):
    """A command on a plan, and the seconds that it may take. `faults` are seeded into it."""

    what: str
    words: str
    text: str
    most: float
    faults: int = 0


def rows() -> Iterator[Row]:
    """Each row's plan is made when it is its turn."""
    yield Row("lay out 20,000 lines", "tidy --show", big_layout(2330), 1)
    yield Row("inspect, 10,000 turnouts", "inspect --no-cache", yards(10_000), 4)
    yield Row("inspect, 10,000 turnouts of everything", "inspect --no-cache", big_layout(10_000), 4)
    for kind in (ladders, main_line):
        name = kind.__name__
        yield Row(f"inspect, no short trips, 1,000 turnouts, {name}", "inspect --no-cache", shorted(kind(1_000)), 1)
        yield Row(f"inspect, no short trips, 5,000 turnouts, {name}", "inspect --no-cache", shorted(kind(5_000)), 5)
        yield Row(f"meter, 1,000 turnouts, {name}", "meter", kind(1_000), 6)
    for slips, most in ((25, 1), (64, 4)):
        yield Row(f"inspect, a throat of {slips} slips", "inspect --no-cache", throat(slips), most)
        yield Row(f"meter, a throat of {slips} slips", "meter", throat(slips), most)
    yield Row("draw, 1,000 turnouts", "draw -o out.svg", big_layout(1_000), 3)
    yield Row("meter, 250 turnouts", "meter", big_layout(250), 10)
    yield Row("meter, 60 turnouts with faults", "meter", big_layout(60), 2, faults=6)
    yield Row("meter, 60 turnouts with shorts", "meter", crossed(big_layout(60)), 2)
    yield Row("meter, 250 turnouts with shorts", "meter", crossed(big_layout(250)), 10)
    yield Row("mend, 60 turnouts, 5 faults", "mend --show", big_layout(60), 1, faults=5)
    yield Row("mend, 1,000 turnouts, 50 faults", "mend --show", big_layout(1_000), 10, faults=50)


def crossed(text: str) -> str:
    """A plan two of whose feeders have their wires swapped."""
    lines = text.splitlines()
    feeders = [number for number, line in enumerate(lines) if fullmatch(r"feeder +\w+ ((?!crossed).)*", line)]
    for number in (feeders[3], feeders[len(feeders) // 2]):
        lines[number] += " crossed"
    return "\n".join(lines) + "\n"


def measures() -> Iterator[Measure]:
    """Seconds over the goal, row by row; and a club's folder of which two plans changed."""
    gc.set_threshold(5_000_000)  # as the command does
    with tempfile.TemporaryDirectory() as folder:
        os.environ["XDG_CACHE_HOME"] = f"{folder}/cache"
        os.chdir(folder)
        for row in rows():
            text = seed_faults(row.text, row.faults, Random(1))[0] if row.faults else row.text
            taken = clocked(Path("plan.trackplan"), text, row.words)
            yield Measure(f"{row.what} ({taken:.2f} s / {row.most:g} s)", taken / row.most, most=1)
        yield from club(Path(folder, "club"))


def clocked(plan: Path, text: str, words: str) -> float:
    """The processor's seconds for a command."""
    plan.write_text(text, encoding="utf-8")
    name, *options = words.split()
    forget()
    start = process_time()
    with redirect_stdout(StringIO()), redirect_stderr(StringIO()):
        main([name, str(plan), *options])
    return process_time() - start


def club(folder: Path) -> Iterator[Measure]:
    """Three hundred plans: all anew, none changed, and two changed; the clock on the wall, since processes share it."""
    folder.mkdir()
    for number in range(CLUB):
        (folder / f"{number}.trackplan").write_text(random_sound(Random(number), 5))

    def gate() -> float:
        start = perf_counter()
        with redirect_stdout(StringIO()), redirect_stderr(StringIO()):
            main(["inspect", str(folder)])
        return perf_counter() - start

    anew, again = gate(), gate()
    for number in range(CHANGED):
        (folder / f"{number}.trackplan").write_text(random_sound(Random(CLUB + number), 5))
    changed = gate()
    yield Measure(f"{CLUB} plans again / anew ({again:.2f} s, {anew:.2f} s)", again / anew, most=0.2)
    what = f"{CHANGED} of {CLUB} plans changed, beyond what an unchanged gate takes / their share of all"
    yield Measure(f"{what} ({changed:.2f} s)", (changed - again) / (anew * CHANGED / CLUB), most=10)
