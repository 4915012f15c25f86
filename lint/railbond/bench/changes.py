"""What has to be done to make a layout that was built to one plan into that of another."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from typing import NamedTuple

from .job import Job


class JobChange(NamedTuple):
    """`what` is `take out`, `change` or `add`; `before` is the job as it was, where there was one."""

    what: str
    job: Job
    before: Job | None = None


def changes(old: Iterable[Job], new: Iterable[Job]) -> list[JobChange]:
    """First what comes out, then what is exchanged for another of the same place, then what is new."""
    gone, come = _differing(old, new), _differing(new, old)
    waiting: dict[tuple[str, ...], list[Job]] = {}
    for job in gone:
        waiting.setdefault(_same_place(job), []).append(job)
    changed, added = [], []
    for job in come:
        before = waiting.get(_same_place(job))
        if before:
            changed.append(JobChange("change", job, before.pop(0)))
        else:
            added.append(JobChange("add", job))
    left = [JobChange("take out", job) for several in waiting.values() for job in several]
    return [*left, *changed, *added]


def _differing(jobs: Iterable[Job], others: Iterable[Job]) -> list[Job]:
    """The jobs that the others do not have, as often as they are more; where a line stands makes no difference."""
    have = Counter(job._replace(at=None) for job in others)
    found = []
    for job in jobs:
        key = job._replace(at=None)
        if have[key]:
            have[key] -= 1
        else:
            found.append(job)
    return found


def _same_place(job: Job) -> tuple[str, ...]:
    return job.kind, job.name, job.place, job.rail
