"""Which turnouts may have a dead frog, for the engines of a plan.

All frogs are thought to be fed at first. Then one turnout after the other, in the order of the plan, is tried with its
frog dead, those that were found to do so before it dead as well: so the answers hold together.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from railbond.circuit.graph import Setting

from .geometry import Leg
from .pickups import Pickups
from .stalling import STALLS, Ground, StallAt
from .walking import WalkedTrack

ANY: Setting = frozenset()


class BuildChoice(NamedTuple):
    """One turnout: how long its frog is dead where it is not fed, and the engine that decides.

    `stall` is that engine's, where the frog must be fed. Else the engine is the one that picks up over the least, and
    `spare` is how much that is more than the frog, in micrometers.
    """

    piece: str
    dead: int
    stall: StallAt | None
    engine: Pickups
    spare: int


def choose(ground: Ground, engines: list[Pickups]) -> list[BuildChoice]:
    """A choice for each piece that has frogs; nothing where there are no engines."""
    if not engines:
        return []
    dead = {name: length for name in ground.track.sizes if (length := _frog_length(ground, name))}
    trial = Ground(ground.wiring, ground.track, ground.power, dict.fromkeys(dead, False))
    return [_choice(trial, name, length, engines) for name, length in dead.items()]


def _choice(trial: Ground, name: str, dead: int, engines: list[Pickups]) -> BuildChoice:
    """Tries a dead frog, and leaves it so where no engine stalls."""
    trial.dead_frogs = {**trial.dead_frogs, name: True}
    troubles = (one for leg in _legs(trial.track, name) for one in trial.troubles_on(leg, engines, STALLS))
    stalls = [one for one in troubles if one.length > one.engine.coast and name in one.dead]
    worst = max(stalls, key=lambda one: one.length, default=None)
    trial.dead_frogs = {**trial.dead_frogs, name: worst is None}
    engine = worst.engine if worst else min(engines, key=lambda one: one.bridges)
    return BuildChoice(name, dead, worst, engine, engine.bridges - dead)


def _frog_length(ground: Ground, name: str) -> int:
    """How long the frogs of a piece are along the worse rail of its ways; nothing where it has none."""
    bare = Ground(ground.wiring, ground.track, ground.power, {name: True})
    return max((bare.dead_length(leg, ANY, "frog") for leg in _legs(ground.track, name)), default=0)


def _legs(track: WalkedTrack, name: str) -> Iterator[Leg]:
    for end, legs in track.legs.items():
        if end.piece == name:
            yield from legs
