"""The probe that tells whether a job was done, at the stage at which it is done: what is not there yet joins nothing.

Wires are on from the stage of wires, contacts from theirs. A probe is told only where it reads otherwise if the job is
left out; where another way through metal hides that, eyes and fingers have to do.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from railbond.circuit.facts import Facts
from railbond.circuit.graph import Bond

from .continuity import holds
from .job import Job, Task

RANK = {"build": 0, "bond": 0, "touch": 0, "joint": 1, "wire": 2, "contact": 3}
STAGE = {"jumper": 0, "bond": 0, "joiner": 1, "cut": 1, "bus": 2, "common": 2, "frog": 3, "device": 3}
KIND = {
    "jumper": "build", "bond": "bond", "joiner": "joint", "bus": "wire", "common": "wire", "frog": "contact",
    "device": "contact",
}  # fmt: skip
"""The kind of bond that a job makes."""
FREE = "its free end and that metal must beep"
LOOK = {True: "look through the cut: no metal may bridge it", False: "tug at it"}


def checks(facts: Facts, tasks: Sequence[Task]) -> dict[Job, str]:
    """What to try after each job; nothing for those that no probe and no look could tell."""
    stages = [_Stage(facts, rank) for rank in range(4)]
    told = {}
    for task in tasks:
        if task.job.kind == "drop" or (task.job.kind == "frog" and task.job.rail):
            told[task.job] = FREE
        elif task.ends:
            told[task.job] = stages[STAGE[task.job.kind]].check(task)
    return told


class _Stage:
    """The rail graph as far as it is built at a stage."""

    def __init__(self, facts: Facts, rank: int) -> None:
        self.facts = facts
        self.ties: dict[int, list[tuple[int, Bond]]] = {}
        for bond in facts.graph.bonds:
            if RANK[bond.kind] <= rank and not (rank == 2 and self._to_rail(bond)):
                self.ties.setdefault(bond.one, []).append((bond.other, bond))
                self.ties.setdefault(bond.other, []).append((bond.one, bond))
        self.first = {switch: stands[0] for switch, stands in facts.graph.positions.items()}

    def _to_rail(self, bond: Bond) -> bool:
        """Bus wires are tried before a drop hangs on them."""
        return bond.kind == "wire" and bool(self.facts.piece_of(bond.one) or self.facts.piece_of(bond.other))

    def check(self, task: Task) -> str:
        """A probe between the two ends, with points set so that it tells."""
        assert task.ends
        one, other = task.ends
        mine = [] if task.parts else list(self._mine(task))
        for thrown in self._throws(task.ends):
            setting = self.first | thrown
            done = task.parts or any(holds(bond, setting) for bond in mine)
            if done and not self._joined(one, other, setting, mine):
                return self._told(task, thrown)
        return LOOK[task.parts]

    def _mine(self, task: Task) -> Iterator[Bond]:
        """The bonds that a job makes."""
        for there, bond in self.ties.get((task.ends or (0, 0))[0], ()):
            if bond.kind == KIND[task.job.kind] and (there in (task.ends or ()) or task.job.kind == "common"):
                yield bond

    def _told(self, task: Task, thrown: Mapping[str, str]) -> str:
        one, other = (self.facts.graph.names[end] for end in task.ends or ())
        stands = ", ".join(f"{switch} {at}" for switch, at in thrown.items())
        setting = f" with {stands}" if stands else ""
        return f"{one} and {other} must {'be SILENT' if task.parts else 'beep'}{setting}"

    def _throws(self, ends: tuple[int, int]) -> Iterator[dict[str, str]]:
        """Settings to try: as things stand, then each switch beside the two ends thrown."""
        yield {}
        beside = (bond.when for end in ends for _, bond in self.ties.get(end, ()))
        pieces = (self.facts.piece_of(end) for end in ends)
        switches = [when[0] for when in beside if when] + [one for one in pieces if one in self.first]
        for switch in dict.fromkeys(switches):
            yield from ({switch: at} for at in self.facts.graph.positions.get(switch, ()))

    def _joined(self, start: int, stop: int, setting: Mapping[str, str], gone: Sequence[Bond]) -> bool:
        """Whether two conductors hang together without some bonds."""
        seen, queue = {start}, [start]
        for here in queue:
            for there, bond in self.ties.get(here, ()):
                if there not in seen and holds(bond, setting) and not any(bond is one for one in gone):
                    seen.add(there)
                    queue.append(there)
        return stop in seen
