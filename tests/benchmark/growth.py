"""Plans that grow, in one process: time a line, and time against n·log n."""

from __future__ import annotations

import io
import tempfile
from collections.abc import Callable, Iterator
from contextlib import redirect_stdout
from functools import partial
from math import log
from pathlib import Path
from time import process_time

from benchmark.timing import Measure, medians
from oracle.plans import big_layout, big_yard
from railbond.command import main
from trackplan.read import forget

LINES = (100, 1_000, 10_000, 100_000)
LINES_A_TURNOUT = 8.6
ROUNDS = 5


def measures() -> Iterator[Measure]:
    """Flat from 100 to 100,000 lines; a yard of 1,000 turnouts and a layout of 10,000."""
    yield from flat()
    yield growth("a yard", big_yard, (100, 1_000))
    yield growth("a layout", big_layout, (1_000, 10_000))


def flat() -> Iterator[Measure]:
    """Time a line, as a ratio to that of the 1,000-line plan. That of 100 lines is mostly what any call costs, for
    which `start` has a goal."""
    texts = {str(lines): big_layout(int(lines / LINES_A_TURNOUT)) for lines in LINES}
    taken = {name: seconds / texts[name].count("\n") for name, seconds in timed(texts).items()}
    for name, each in taken.items():
        what = f"{name} lines, time a line / that of 1,000 lines ({each * 1e6:.0f} µs)"
        yield Measure(what, each / taken["1000"], most=None if name == "100" else 2)


def growth(what: str, plan: Callable[[int], str], turnouts: tuple[int, int]) -> Measure:
    """How much longer the large plan takes, over how much longer n·log n is."""
    small, large = turnouts
    taken = timed({str(size): plan(size) for size in turnouts})
    expected = large * log(large) / (small * log(small))
    what = f"{what} of {large} turnouts / n·log n from {small} on ({taken[str(large)]:.2f} s)"
    return Measure(what, taken[str(large)] / taken[str(small)] / expected, most=1)


def timed(texts: dict[str, str]) -> dict[str, float]:
    """Median seconds of processor time that the command takes for each text, once this process is warm. The large
    ones run once, the others often; each reads every line as if for the first time."""
    with tempfile.TemporaryDirectory() as folder:
        works = {name: partial(inspect, Path(folder) / f"{name}.trackplan", text) for name, text in texts.items()}
        next(iter(works.values()))()
        large = {name for name, text in texts.items() if len(text) > 1_000_000}
        often = medians({name: work for name, work in works.items() if name not in large}, ROUNDS, process_time)
        once = medians({name: work for name, work in works.items() if name in large}, 1, process_time)
        return often | once


def inspect(path: Path, text: str) -> None:
    """Runs the command on a plan in which it must find no error."""
    path.write_text(text, encoding="utf-8")
    forget()
    output = io.StringIO()
    with redirect_stdout(output):
        assert main(["inspect", str(path), "--no-cache", "--fail-at", "error"]) == 0, output.getvalue()[:1000]
