"""One job at the bench, and the kinds of jobs."""

from __future__ import annotations

from typing import NamedTuple

from trackplan.span import Span

KINDS = {
    "lay": "Track to lay",
    "joiner": "Insulated joiners, one a rail",
    "cut": "Cuts within a track, one a rail",
    "jumper": "Turnouts: metals to cut apart",
    "bond": "Bonds to solder",
    "frog": "Frogs",
    "drop": "Drops, one wire each",
    "bus": "Bus wires, one leg each",
    "common": "Common rails",
    "device": "Boosters, breakers, reversers and other devices",
}
"""Every kind of job in the order of work, with its headline."""


class Job(NamedTuple):
    """Something to do with hands. `name` is the piece or supply that it is about, `place` where on it and `rail` which
    metal; `colour` is the wire's leg, `size` its gauge as typed, `length` metres of it, and `source` where it comes
    from."""

    kind: str
    name: str
    place: str = ""
    rail: str = ""
    colour: str = ""
    size: str = ""
    length: float | None = None
    source: str = ""
    note: str = ""
    at: Span | None = None

    @property
    def module(self) -> str:
        """The module of a meet plan that it is in; nothing in a plan without modules."""
        return self.name.rpartition(".")[0]
