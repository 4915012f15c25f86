"""The schedule as CSV (RFC 4180), for a spreadsheet."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from io import StringIO

from railbond.bench.changes import JobChange
from railbond.bench.job import Job
from railbond.bench.parts import PartsLine

from .places import Sources, line_at

HEAD = (
    "change", "kind", "module", "name", "place", "rail", "color", "size", "meters", "from", "note", "line", "number",
    "stage", "check",
)  # fmt: skip


def rows(
    jobs: Iterable[Job], parts: Iterable[PartsLine], sources: Sources, checks: Mapping[Job, str] | None = None
) -> str:
    """One row a job, then one a part with its number."""
    counted = (("", "part", "", part.what, *[""] * 4, *_number(part)) for part in parts if part.number)
    return _written([*(("", *_cells(job, sources), (checks or {}).get(job, "")) for job in jobs), *counted])


def changed_rows(changes: Iterable[JobChange], sources: Sources) -> str:
    """One row a change; a job that is changed has a row as it was before the row as it will be."""
    found: list[tuple[object, ...]] = []
    for one in changes:
        if one.before:
            found.append(("was", *_cells(one.before, sources), ""))
        found.append((one.what, *_cells(one.job, sources), ""))
    return _written(found)


def _cells(job: Job, sources: Sources) -> Iterator[object]:
    yield from (job.kind, job.module, job.name, job.place, job.rail, job.color, job.size)
    yield from ("" if job.length is None else job.length, job.source, job.note)
    yield line_at(job.at, sources) if job.at and job.at.path in sources else ""
    yield ""
    yield job.stage


def _number(part: PartsLine) -> tuple[object, ...]:
    meters = part.number if part.unit else ""
    return meters, "", "", "", "" if part.unit else part.number, "", ""


def _written(table: Iterable[Iterable[object]]) -> str:
    import csv

    text = StringIO(newline="")
    writer = csv.writer(text)
    writer.writerow(HEAD)
    writer.writerows([_harmless(cell) for cell in row] for row in table)
    return text.getvalue()


def _harmless(cell: object) -> object:
    """A text that a spreadsheet would take for a formula is told as text."""
    return f"'{cell}" if isinstance(cell, str) and cell[:1] in ("=", "+", "-", "@", "\t") else cell
