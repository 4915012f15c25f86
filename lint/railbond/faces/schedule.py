"""The schedule as text: what to do stage by stage and what to buy, with boxes to tick, in 80 columns."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from itertools import groupby

from railbond.bench.changes import JobChange
from railbond.bench.job import KINDS, STAGES, Job
from railbond.bench.parts import PartsLine
from railbond.saying import printable

from .cautions import SOLDERING
from .folding import folded
from .places import Sources, line_at

WIDTH = 80
BOX = "[ ]"
DEEDS = {
    "lay": "track", "joiner": "joiner", "cut": "cut", "jumper": "at the frog", "bond": "bond",
    "frog": "frog", "drop": "drop", "bus": "bus wire", "common": "common rail", "device": "device",
}  # fmt: skip
"""One job of each kind."""
UNDONE = {
    "joiner": ": put a metal joiner in its place",
    "cut": ": solder a wire across",
    "jumper": ": solder a wire across",
}
LINES = "A number in brackets is the line of the plan that asks for the job."
HOW = {
    "before laying": "With the turnouts upside down on the bench. Leave the other end of each wire free, long enough "
    "to reach through the table: that end and the metal it is soldered to must beep.",
    "laying": "The rail before a metal joiner and the rail behind it must beep.",
    "wires": "Solder a drop to its rail first. While its other end is free, that end and the rail must beep, and that "
    "end and the rail across must be silent; then put it on its screw.",
    "contacts": "A changeover contact has three screws: its common goes to the frog, and each throw to one wire.",
    "supplies": "Before the plug goes in, work through the sheet of `railbond meter`.",
}
"""What goes for every job of a stage, with the probe that tries it."""

Checks = Mapping[Job, str]


def told(
    title: str,
    jobs: Sequence[Job],
    parts: Iterable[PartsLine],
    allowance: float,
    sources: Sources,
    checks: Checks | None = None,
) -> str:
    """The whole schedule, module by module. `checks` tells the probe that tries each job."""
    lines = [*folded(f"Schedule: {title}", WIDTH), "", *cautions(SOLDERING), "", *folded(LINES, WIDTH)]
    modules = dict.fromkeys(job.module for job in jobs)
    for module in modules:
        if module:
            lines += ["", f"== Module {module} =="]
        lines += _stages([job for job in jobs if job.module == module], sources, checks or {})
    return printed([*lines, "", *_parts(parts, allowance)])


def changed(title: str, changes: Sequence[JobChange], sources: Sources) -> str:
    """What to do to get from one plan to another."""
    lines = [*folded(f"Changes: {title}", WIDTH), "", *cautions(SOLDERING)]
    if not changes:
        lines += ["", "Nothing: a layout built to the one plan is built to the other."]
    for what in dict.fromkeys(one.what for one in changes):
        lines += ["", what.capitalize()]
        for change in changes:
            if change.what == what:
                lines += _change(change, sources)
    return printed(lines)


def printed(lines: Iterable[str]) -> str:
    """The lines as a terminal may be given them."""
    return "\n".join(printable(line).rstrip() for line in lines)


def cautions(texts: Iterable[str]) -> list[str]:
    """Cautions in 80 columns."""
    return [line for text in texts for line in folded(f"! {text}", WIDTH, rest="  ")]


def _stages(jobs: Sequence[Job], sources: Sources, checks: Checks) -> Iterator[str]:
    there = [stage for stage in STAGES if any(job.stage == stage for job in jobs)]
    for number, stage in enumerate(there, 1):
        yield ""
        yield f"{number}. {STAGES[stage].upper()}"
        yield from folded(HOW[stage], WIDTH)
        yield from _kinds([job for job in jobs if job.stage == stage], sources, checks)


def _kinds(jobs: Sequence[Job], sources: Sources, checks: Checks) -> Iterator[str]:
    for kind, head in KINDS.items():
        mine = both_rails([job for job in jobs if job.kind == kind])
        if mine:
            yield ""
            yield f"{head} ({len(mine)})"
            for job in mine:
                yield from boxed(words(job), sources, job)
                if check := "" if kind in ("drop", "lay") else checks.get(job, ""):
                    yield from _below(f"check: {check}")


def both_rails(jobs: Iterable[Job]) -> list[Job]:
    """Two joiners of a kind at one place as one job, as one does them."""
    found: list[Job] = []
    for _, group in groupby(jobs, key=lambda job: (job.kind, job.place, job.note, job.at)):
        same = list(group)
        if same[0].kind == "joiner" and len(same) == 2 and same[0].note.startswith("metal"):
            same = [same[0]._replace(rail="both rails")]
        found += same
    return found


def _change(change: JobChange, sources: Sources) -> list[str]:
    lines = boxed(f"{DEEDS[change.job.kind]}: {deed(change)}", sources, change.job)
    if change.before:
        lines += _below(f"was: {words(change.before)}")
    return lines


def _below(text: str) -> list[str]:
    """What is said below a job."""
    return folded(text, WIDTH, first=" " * 6, rest=" " * 6)


def deed(change: JobChange) -> str:
    """What is to be done, and where something was cut that is to be whole again, how."""
    job = change.job
    apart = job.kind == "cut" or job.note.startswith(("insulated", "cut"))
    undone = UNDONE.get(job.kind, "") if change.what == "take out" and apart else ""
    return f"{words(job)}{undone}"


def words(job: Job) -> str:
    """A job in one line: where, which rail, which wire and from where."""
    arrow = f"from {job.source}" if job.source else ""
    parts = [job.note] if job.kind == "lay" else [where(job), job.rail, wire(job), arrow, job.note]
    return ", ".join(part for part in parts if part)


def where(job: Job) -> str:
    """The place of a job."""
    return job.place if job.kind in ("joiner", "cut", "drop", "bus", "common") else f"{job.name} {job.place}".strip()


def wire(job: Job) -> str:
    """The wire of a job: color, size and length."""
    length = "" if job.length is None else f"{job.length * 100:g} cm"
    return " ".join(filter(None, (job.color, job.size, length)))


def boxed(text: str, sources: Sources, job: Job) -> list[str]:
    """A line with a box to tick, and the plan's line that asks for it."""
    place = f"  ({line_at(job.at, sources).rpartition(':')[2]})" if job.at and job.at.path in sources else ""
    return folded(f"{BOX} {text}{place}", WIDTH, rest=" " * 6)


def _parts(parts: Iterable[PartsLine], allowance: float) -> Iterator[str]:
    yield f"Parts (wire with {allowance:g} % allowed for strips and slack)"
    for part in parts:
        if part.number:
            yield from folded(f"{BOX} {part.number:>8g} {part.unit:<2} {part.what}", WIDTH, rest=" " * 16)
