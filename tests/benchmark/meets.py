"""Meets: a thousand module plans cold and warm, two hundred modules as one, and the page."""

from __future__ import annotations

import os
import tempfile
from collections.abc import Iterator
from pathlib import Path
from random import Random
from time import perf_counter

from benchmark.start import inspect, python
from benchmark.timing import Measure, seconds
from oracle.plans import random_sound
from railbond.batch.many import results
from railbond.faces import summary
from railbond.meet.examining import Outcome, examine_meet
from railbond.meet.reading import read_meet
from trackplan.gather import gather

PLANS, TURNOUTS = 1_000, 5
ALONE = 20
"""Plans inspected each by a process of its own, to tell what a thousand would take."""
MODULES = 200

MODULE = """\
plan "Module"
endplate W left black
endplate E left red
bus plug -> P1 1 m 14 AWG
segment west W -> T1.points 40 cm
turnout T1 left number 6 isolated-frog
segment main T1.through -> T2.through 1 m
segment siding T1.diverging -> T2.diverging 1 m
turnout T2 right number 6 isolated-frog
segment east T2.points -> E 40 cm
frog T1 switched from stock rails
frog T2 switched from stock rails
feeder P1 -> west 22 AWG 20 cm
feeder P1 -> main 22 AWG 20 cm
feeder P1 -> siding 22 AWG 20 cm
feeder P1 -> east 22 AWG 20 cm
"""
POWER = 'plan "Power"\nbooster B1 15 V 5 A\ndistrict main from B1 trips 1 A\nendplate E left red\n'


def measures() -> Iterator[Measure]:
    """Ratios, and for information the seconds behind them."""
    with tempfile.TemporaryDirectory() as folder:
        yield from thousand(Path(folder))
    began = perf_counter()
    outcome = whole(MODULES)
    taken = perf_counter() - began
    yield Measure(f"a meet of {MODULES} modules / 10 s ({taken:.1f} s)", taken / 10, most=1)
    drawn = seconds(lambda: summary.page([], [outcome]), perf_counter)
    yield Measure(f"its page / 10 s ({drawn:.1f} s)", drawn / 10, most=1)


def thousand(folder: Path) -> Iterator[Measure]:
    """The batch against one process a plan; the warm batch against the cold one."""
    os.environ["XDG_CACHE_HOME"] = str(folder / "cache")
    paths = [folder / f"m{number:04}.trackplan" for number in range(PLANS)]
    rng = Random(1)
    for path in paths:
        path.write_text(random_sound(rng, TURNOUTS))
    names = [str(path) for path in paths]
    apart = sum(seconds(inspect(path, 0), perf_counter) for path in paths[:ALONE]) / ALONE * PLANS
    cold = seconds(lambda: list(results(names)), perf_counter)
    warm = seconds(lambda: list(results(names)), perf_counter)
    bare = seconds(python("-c", "pass"), perf_counter)
    yield Measure(f"{PLANS} plans, one process each / the batch, cold ({cold:.1f} s)", apart / cold, least=3)
    yield Measure(f"the batch, cold / warm ({warm:.1f} s)", cold / warm, least=5)
    yield Measure("the warm batch, a plan / python -c pass", warm / PLANS / bare)


def whole(modules: int) -> Outcome:
    """A long line of modules behind one booster, which must have no fault."""
    names = [f"m{number}" for number in range(modules)]
    lines = ['plan "Long line"', 'module power "power"', *(f'module {name} "module"' for name in names)]
    for before, name in zip(["power", *names], names, strict=False):
        lines.append(f"couple {before}.E -> {name}.W")
        lines.append(f"bus power.main -> {name}.plug 1 m 14 AWG")
    power = POWER + "segment line stop -> E 1 m\nfeeder main -> line 22 AWG 20 cm\n"
    files = {"meet": "\n".join(lines) + "\n", "power": power, "module": MODULE}
    outcome = examine_meet(read_meet(gather("meet", files.__getitem__), files.__getitem__))
    assert not [one for one in outcome.findings if one.level == "error"], outcome.findings[:3]
    return outcome
