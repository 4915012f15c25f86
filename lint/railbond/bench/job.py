"""One job at the bench, and the kinds of jobs."""

from __future__ import annotations

from typing import NamedTuple

from trackplan.span import Span

STAGES = {
    "before laying": "Before the track is laid",
    "laying": "Laying the track",
    "wires": "Wires",
    "contacts": "Contacts and units",
    "supplies": "Supplies",
}
"""The stages of work in their order, each with its headline."""

KINDS = {
    "jumper": "At frogs: metals to part, and jumpers to keep",
    "bond": "Bonds to solder",
    "lay": "Track to lay",
    "joiner": "Joiners, one a rail",
    "cut": "Cuts within a track, one a rail",
    "bus": "Bus wires, one leg each",
    "common": "Common rails",
    "drop": "Drops, one wire each",
    "frog": "Frogs",
    "device": "Boosters, breakers, reversers and other devices",
}
"""Every kind of job in the order of work within a stage, with its headline."""

STAGE_OF = {"jumper": 0, "bond": 0, "lay": 1, "joiner": 1, "cut": 1, "bus": 2, "common": 2, "device": 4}


class Job(NamedTuple):
    """Something to do with hands. `name` is the piece or supply that it is about, `place` where on it and `rail` which
    metal; `color` is the wire's leg, `size` its gauge as typed, `length` meters of it, and `source` where it comes
    from."""

    kind: str
    name: str
    place: str = ""
    rail: str = ""
    color: str = ""
    size: str = ""
    length: float | None = None
    source: str = ""
    note: str = ""
    at: Span | None = None

    @property
    def module(self) -> str:
        """The module of a meet plan that it is in; nothing in a plan without modules."""
        return self.name.rpartition(".")[0]

    @property
    def stage(self) -> str:
        """When it is done. Wires to special trackwork are soldered to its underside before it is laid; what a frog's
        wire then hangs on waits for the contacts."""
        under = {"drop": 2 if " at " in self.place else 0, "frog": 0 if self.rail else 3}
        return list(STAGES)[under.get(self.kind, STAGE_OF.get(self.kind, 3))]


class Task(NamedTuple):
    """A job, and what it does to the rail graph: the conductors that it joins, or that it parts."""

    job: Job
    ends: tuple[int, int] | None = None
    parts: bool = False
