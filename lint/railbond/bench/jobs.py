"""What somebody has to do for a plan, one job at a time: track, cuts, joiners, bonds, wires and devices."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import chain

from railbond.circuit.facts import Facts
from railbond.layout.model import Piece

from .contacts import frog_tasks
from .job import KINDS, STAGES, Job, Task
from .track_jobs import track_tasks
from .uncut import bonds, pairs_at_frog
from .wires import wire_tasks


def jobs(facts: Facts) -> list[Job]:
    """Every job of a plan, in the order of work."""
    return [task.job for task in tasks(facts)]


def tasks(facts: Facts) -> list[Task]:
    """Every job with what it joins or parts, stage by stage and kind by kind."""
    stages, kinds = list(STAGES), list(KINDS)
    found = chain(track_tasks(facts), _metalwork(facts), frog_tasks(facts), wire_tasks(facts))
    return sorted(found, key=lambda task: (stages.index(task.job.stage), kinds.index(task.job.kind)))


def _metalwork(facts: Facts) -> Iterator[Task]:
    for piece in facts.layout.pieces.values():
        for cut, one, other, note in pairs_at_frog(piece):
            job = Job("jumper", piece.name, rail=_between(piece, one, other), note=note, at=cut.at)
            yield Task(job, _ends(facts, piece, one, other), note.startswith("cut"))
        for bond, tie in bonds(piece):
            job = Job("bond", piece.name, rail=_between(piece, tie.one, tie.other), at=bond.at)
            yield Task(job, _ends(facts, piece, tie.one, tie.other))


def _between(piece: Piece, one: int, other: int) -> str:
    metals = piece.template.metals
    return f"{metals[one].words} - {metals[other].words}"


def _ends(facts: Facts, piece: Piece, one: int, other: int) -> tuple[int, int]:
    return facts.wiring.metal(piece.name, one), facts.wiring.metal(piece.name, other)
