"""The schedule as a page to print."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from railbond.bench.changes import JobChange
from railbond.bench.job import KINDS, STAGES, Job
from railbond.bench.parts import PartsLine
from railbond.circuit.facts import Facts
from railbond.trackwork import lessons

from .cautions import SOLDERING
from .drawing.piece_picture import piece_pictures
from .paper import PaperSection, paper
from .places import Sources, counted, line_at
from .schedule import DEEDS, HOW, LINES, Checks, both_rails, deed, where, wire, words
from .turnout_picture import pictures

COLUMNS = ("where", "rail", "wire", "from", "note", "check", "line")
COUNTED = {"cut": "cut", "bond": "bond", "bus": "bus wire", "drop": "drop", "frog": "frog wire", "device": "device"}
PLAIN = ("segment", "approach-track", "construction", "turnout")


def page(
    title: str,
    facts: Facts,
    jobs: Sequence[Job],
    parts: Sequence[PartsLine],
    allowance: float,
    checks: Checks | None = None,
    plan: str = "",
) -> str:
    """The whole schedule, module by module, and the parts, with a picture of each turnout and special piece, and a
    drawing of each kind of trackwork."""
    sources = facts.sources
    modules = dict.fromkeys(job.module for job in jobs)
    sections = [one for module in modules for one in _module(module, jobs, sources, checks or {})]
    bought = [(f"{part.number:g} {part.unit}".strip(), part.what) for part in parts if part.number]
    lead = f"Wire with {allowance:g} % allowed for strips and slack."
    sections.append(PaperSection("Parts", ("number", "what"), bought, lead))
    intro = LINES.replace("in brackets", "in the last column")
    said = {"verdict": verdict(jobs), "plan": plan}
    return paper(
        title, "Schedule", SOLDERING, sections, intro, rails(jobs), [*pictures(jobs), *soldered(facts, jobs)], **said
    )


def verdict(jobs: Sequence[Job]) -> str:
    """How much there is to do, in one line."""
    found = [(sum(job.kind == kind for job in jobs), word) for kind, word in COUNTED.items()]
    told = [counted(number, word) for number, word in found if number]
    rest = len(jobs) - sum(number for number, _ in found)
    told += [f"{rest} more"] if told and rest else []
    return f"{counted(len(jobs), 'job')} to do{': ' if told else ''}{', '.join(told)}."


def _module(module: str, jobs: Sequence[Job], sources: Sources, checks: Checks) -> Iterator[PaperSection]:
    there = [stage for stage in STAGES if any(job.stage == stage and job.module == module for job in jobs)]
    for number, stage in enumerate(there, 1):
        lead = HOW[stage]
        for kind, head in KINDS.items():
            chosen = [job for job in jobs if (job.module, job.kind, job.stage) == (module, kind, stage)]
            if not chosen:
                continue
            name = f"{number}. {STAGES[stage]}: {head[0].lower()}{head[1:]}"
            yield _section(f"{module}: {name}" if module else name, kind, chosen, sources, checks, lead)
            lead = ""


def _section(name: str, kind: str, jobs: Sequence[Job], sources: Sources, checks: Checks, lead: str) -> PaperSection:
    if kind == "lay":
        return PaperSection(name, ("track", "line"), [(job.note, _line(job, sources)) for job in jobs], lead)
    return PaperSection(name, COLUMNS, [_row(job, sources, checks) for job in both_rails(jobs)], lead)


def _row(job: Job, sources: Sources, checks: Checks) -> tuple[str, ...]:
    return where(job), job.rail, wire(job), job.source, job.note, checks.get(job, ""), _line(job, sources)


def rails(jobs: Sequence[Job]) -> list[tuple[str, str]]:
    """A drawing of the rails of each kind of trackwork that is laid, so that a finger finds them, but of turnouts,
    which have pictures."""
    laid = dict.fromkeys(job.note.split()[0] for job in jobs if job.kind == "lay")
    known = lessons()
    return [(f"The rails of a {kind}", drawing(known[kind])) for kind in laid if kind in known and kind not in PLAIN]


def soldered(facts: Facts, jobs: Sequence[Job]) -> list[tuple[str, str]]:
    """A picture of each piece but turnouts, which have theirs, with the names of the metals that a job is about."""
    laid = {job.name for job in jobs if job.kind == "lay" and job.note.split()[0] != "turnout"}
    marked: dict[str, dict[int, str]] = {}
    for job in jobs:
        if job.name in laid and job.rail:
            for metal, one in enumerate(facts.layout.pieces[job.name].template.metals):
                if one.words == job.rail:
                    marked.setdefault(job.name, {})[metal] = one.words
    return [(f"Where to find the metals of {name}", svg) for name, svg in piece_pictures(facts, marked)]


def drawing(lesson: str) -> str:
    """The first drawing of a lesson, with what it says of its mirror image."""
    lines = lesson.split("\n")
    start = next(number for number, line in enumerate(lines) if line.startswith("    "))
    stop = next((n for n, line in enumerate(lines) if n > start and line and not line.startswith(" ")), len(lines))
    return "\n".join(lines[start:stop]).rstrip()


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
