"""The schedule as a page to print."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from railbond.bench.changes import JobChange
from railbond.bench.job import KINDS, Job
from railbond.bench.parts import PartsLine

from .cautions import SOLDERING
from .paper import PaperSection, paper
from .places import Sources, line_at
from .schedule import DEEDS, deed, where, wire, words

COLUMNS = ("where", "rail", "wire", "from", "note", "line")


def page(title: str, jobs: Sequence[Job], parts: Iterable[PartsLine], allowance: float, sources: Sources) -> str:
    """The whole schedule, module by module, and the parts."""
    sections = [one for module in dict.fromkeys(job.module for job in jobs) for one in _module(module, jobs, sources)]
    bought = [(f"{part.number:g} {part.unit}".strip(), part.what) for part in parts if part.number]
    lead = f"Wire with {allowance:g} % allowed for strips and slack."
    sections.append(PaperSection("Parts", ("number", "what"), bought, lead))
    return paper(title, "Schedule", SOLDERING, sections)


def _module(module: str, jobs: Sequence[Job], sources: Sources) -> Iterator[PaperSection]:
    for kind, head in KINDS.items():
        mine = [job for job in jobs if job.module == module and job.kind == kind]
        name = f"{module}: {head}" if module else head
        if kind == "lay":
            yield PaperSection(name, ("track", "line"), [(job.note, _line(job, sources)) for job in mine])
        else:
            yield PaperSection(name, COLUMNS, [_row(job, sources) for job in mine])


def _row(job: Job, sources: Sources) -> tuple[str, ...]:
    return where(job), job.rail, wire(job), job.source, job.note, _line(job, sources)


def changed_page(title: str, changes: Sequence[JobChange], sources: Sources) -> str:
    """What to do to get from one plan to another."""
    sections = []
    for what in dict.fromkeys(one.what for one in changes):
        rows = [
            (DEEDS[one.job.kind], deed(one), words(one.before) if one.before else "", _line(one.job, sources))
            for one in changes
            if one.what == what
        ]
        sections.append(PaperSection(what.capitalize(), ("what", "where and how", "as it was", "line"), rows))
    intro = "" if changes else "Nothing: a layout built to the one plan is built to the other."
    return paper(title, "Changes", SOLDERING, sections, intro)


def _line(job: Job, sources: Sources) -> str:
    return line_at(job.at, sources).rpartition(":")[2] if job.at and job.at.path in sources else ""
