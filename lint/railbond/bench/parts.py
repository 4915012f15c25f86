"""The parts count of a list of jobs: joiners, metres of wire by gauge and colour, terminals, devices."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import NamedTuple

from .job import Job

ALLOWANCE = 10.0
"""Percent of wire that is bought beyond the plan's lengths, for strips, slack and mistakes: common practice."""


class PartsLine(NamedTuple):
    """So many of a thing: pieces, or metres where `unit` says so."""

    what: str
    number: float
    unit: str = ""


def parts(jobs: Iterable[Job], allowance: float = ALLOWANCE) -> list[PartsLine]:
    """What is to be bought; wire with `allowance` percent added. A bus terminal is one pair of screws."""
    jobs = list(jobs)
    return [*_counted(jobs), *_metres(jobs, allowance)]


def _counted(jobs: list[Job]) -> Iterator[PartsLine]:
    kinds = {"joiner": "insulated joiners", "cut": "saw cuts", "bond": "bond wires", "drop": "drops"}
    for kind, words in kinds.items():
        yield PartsLine(words, sum(job.kind == kind for job in jobs))
    yield PartsLine("bus terminals", len({job.name for job in jobs if job.kind == "bus"}))
    frogs = [job for job in jobs if job.kind == "frog"]
    yield PartsLine("automatic frog units", sum(job.place == "automatic frog unit" for job in frogs))
    yield PartsLine("turnouts with frog contacts", len({job.name for job in frogs if job.place.startswith("contact")}))
    yield PartsLine("lamps", sum(job.kind == "device" and job.place.startswith("lamp") for job in jobs))
    for what in ("booster", "breaker", "auto-reverser", "detector", "toggle", "cab"):
        yield PartsLine(f"{what}s", sum(job.kind == "device" and job.place == what for job in jobs))


def _metres(jobs: list[Job], allowance: float) -> Iterator[PartsLine]:
    lengths: dict[tuple[str, str], list[float | None]] = {}
    for job in jobs:
        if job.kind in ("bus", "drop"):
            lengths.setdefault((job.size, job.colour), []).append(job.length)
    for (size, colour), several in sorted(lengths.items()):
        known = sum(one for one in several if one is not None)
        yield PartsLine(f"{size or 'wire of unknown size'}, {colour}", round(known * (1 + allowance / 100), 2), "m")
        if unknown := several.count(None):
            yield PartsLine(f"wires {size}, {colour}, whose length the plan does not tell".replace(" ,", ","), unknown)
