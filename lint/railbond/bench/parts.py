"""The parts count of a list of jobs: track, joiners, meters of wire by gauge and color, contacts, devices."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator
from typing import NamedTuple

from .job import Job
from .track_jobs import INSULATED, PART_OF, PLAIN, SOLDERED
from .uncut import KEEP

ALLOWANCE = 10.0
"""Percent of wire that is bought beyond the plan's lengths, for strips, slack and mistakes: common practice."""
JOINERS = {PLAIN: "metal joiners", SOLDERED: "metal joiners to solder", INSULATED: "insulated joiners"}


class PartsLine(NamedTuple):
    """So many of a thing: pieces, or meters where `unit` says so."""

    what: str
    number: float
    unit: str = ""


def parts(jobs: Iterable[Job], allowance: float = ALLOWANCE) -> list[PartsLine]:
    """What is to be bought; wire with `allowance` percent added. A bus terminal is one pair of screws."""
    jobs = list(jobs)
    return [*_track(jobs), *_counted(jobs), *_meters(jobs, allowance)]


def _track(jobs: list[Job]) -> Iterator[PartsLine]:
    """Turnouts and trackwork by what they are, and plain track by its length."""
    laid = [job for job in jobs if job.kind == "lay"]
    wholes = dict.fromkeys((job.module, _whole(job)) for job in laid)
    yield from (
        PartsLine(what, number) for what, number in Counter(_kind(whole) for _, whole in wholes).items() if what
    )
    meters: dict[str, float] = {}
    for job in laid:
        if job.length is not None:
            meters[job.size] = meters.get(job.size, 0.0) + job.length
    for size, length in sorted(meters.items()):
        yield PartsLine(f"plain track{size and f', {size}'}", round(length, 2), "m")


def _whole(job: Job) -> str:
    """The line of what was bought: its own, or that of which it is a part."""
    return job.note.partition(PART_OF)[2] or job.note


def _kind(line: str) -> str:
    """A line without its name; of hand-laid track the name tells all."""
    keyword, name, *rest = line.split()
    if keyword == "construction":
        return f"hand-laid trackwork {name}, as its plan tells it"
    return "" if keyword in ("segment", "approach-track") else " ".join((keyword, *rest))


def _counted(jobs: list[Job]) -> Iterator[PartsLine]:
    for note, words in JOINERS.items():
        yield PartsLine(words, sum(job.kind == "joiner" and job.note == note for job in jobs))
    yield PartsLine("jumpers under frogs, to keep or to solder", sum(job.note == KEEP for job in jobs))
    for kind, words in {"cut": "saw cuts", "bond": "bond wires", "drop": "drops"}.items():
        yield PartsLine(words, sum(job.kind == kind for job in jobs))
    yield PartsLine("bus terminals", len({job.name for job in jobs if job.kind == "bus"}))
    frogs = [job for job in jobs if job.kind == "frog"]
    commons = [place for _, place in dict.fromkeys((job.name, job.place) for job in frogs if job.rail)]
    for what in ("automatic frog unit", "changeover contact", "contact"):
        yield PartsLine(f"{what}s", sum(place.startswith(what) for place in commons))
    yield PartsLine("wires for frogs and contacts, whose length the plan does not tell", len(frogs) - _without(frogs))
    yield PartsLine("lamps", sum(job.kind == "device" and job.place.startswith("lamp") for job in jobs))
    for what in ("booster", "breaker", "auto-reverser", "detector", "toggle", "cab"):
        yield PartsLine(f"{what}s", sum(job.kind == "device" and job.place == what for job in jobs))


def _without(frogs: list[Job]) -> int:
    return sum(job.place.startswith("leave") for job in frogs)


def _meters(jobs: list[Job], allowance: float) -> Iterator[PartsLine]:
    lengths: dict[tuple[str, str], list[float | None]] = {}
    for job in jobs:
        if job.kind in ("bus", "drop"):
            lengths.setdefault((job.size, job.color), []).append(job.length)
    for (size, color), several in sorted(lengths.items()):
        known = sum(one for one in several if one is not None)
        yield PartsLine(f"{size or 'wire of unknown size'}, {color}", round(known * (1 + allowance / 100), 2), "m")
        if unknown := several.count(None):
            words = f"wires {size}, {color}, whose length the plan does not tell".replace(" ,", ",")
            yield PartsLine(words, unknown)
