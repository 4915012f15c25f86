"""The resistance of every place on every rail, against ngspice on the same resistors, and on growing layouts."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial
from math import log
from random import Random
from shutil import which
from time import process_time

from benchmark.timing import Measure, medians, seconds
from power.spice import Point, deck, impedances
from power.wired import facts_of, random_wired
from railbond.circuit.power.quadratic import resistance
from railbond.circuit.power.solved import SolvedNetwork

TURNOUTS = 60
FEEDERS = (1_000, 10_000)
EACH = 500
"""Feeders of one district."""


def measures() -> Iterator[Measure]:
    """ngspice over the solver for the same places; a line of 10,000 feeders against n·log n from 1,000."""
    program = which("ngspice")
    if program:
        yield from against(program)
    taken = {count: seconds(partial(worst, count), process_time) for count in FEEDERS}
    small, large = FEEDERS
    expected = large * log(large) / (small * log(small))
    what = f"{large} feeders / n·log n from {small} on ({taken[large]:.2f} s)"
    yield Measure(what, taken[large] / taken[small] / expected, most=1.5)


def against(program: str) -> Iterator[Measure]:
    """The same places of a random layout, the solver from the layout on, ngspice from the deck on."""
    facts = facts_of(random_wired(Random(7), TURNOUTS))
    power = facts.power
    asked = points(power)
    text = deck(power.frame, asked)
    works = {
        "here": lambda: solved(SolvedNetwork(facts.wiring, facts.proof), asked),
        "ngspice": lambda: impedances(program, text),
        "one place": lambda: impedances(program, deck(power.frame, asked[:1])),
    }
    taken = medians(works, rounds=3)
    size = f"{len(asked)} places of {power.network.size} nodes ({taken['here'] * 1e3:.0f} ms here)"
    what = f"ngspice / the solver, {size}"
    yield Measure(what, taken["ngspice"] / taken["here"], least=10)
    yield Measure("ngspice with one place alone / the solver with all", taken["one place"] / taken["here"])


def points(power: SolvedNetwork) -> list[Point]:
    rails = [rail for found in power.network.rails.values() for rail in found]
    return [Point(rail, 0.5) for rail in rails if power.frame.sources_at(rail.one)]


def solved(power: SolvedNetwork, asked: list[Point]) -> list[float]:
    """The resistance at each place, from a network that is laid and solved anew."""
    found = []
    for rail, share in asked:
        (reach,) = power.frame.reaches(rail)
        found.append(resistance(rail, reach, rail.start + share * (rail.stop - rail.start))[0])
    return found


def worst(feeders: int) -> float:
    """The worst place of a main line with so many feeders, ten to a terminal."""
    return max(spot.ohms for spot in facts_of(line(feeders)).power.worst.values())


def line(feeders: int) -> str:
    """A main line of segments, each with a feeder, in districts that are gapped from each other."""
    lines = ["scale HO", "booster B1 15 V 5 A"]
    for number in range(feeders):
        if number % EACH == 0:
            lines.append(f"district d{number // EACH} from B1 trips 4 A")
        if number % 10 == 0:
            source = f"d{number // EACH}" if number % EACH == 0 else f"P{number // 10 - 1}"
            lines.append(f"bus {source} -> P{number // 10} 2 m 14 AWG")
        start = f"J{number}" if number else "stop"
        stop = f"J{number + 1}" if number + 1 < feeders else "stop"
        lines.append(f"segment s{number} {start} -> {stop} 1.8 m")
        lines.append(f"feeder P{number // 10} -> s{number} at 70 cm 22 AWG 20 cm")
        if number and number % EACH == 0:
            lines.append(f"gap J{number} both rails")
    return "\n".join(lines) + "\n"
