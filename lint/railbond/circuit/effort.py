"""How much has been worked out, in steps that are the same on every machine: what budgets count.

A step is about what it takes to lay out one statement, and to build its part of the rail graph: some 50 µs on a
machine of 2020. Whatever takes long says what it takes.
"""

from __future__ import annotations

from _thread import _local  # what `threading` calls `local`, without the time it takes to load that
from collections.abc import Iterator
from contextlib import contextmanager
from math import inf

COPPER = 12_000.0
"""Steps for the least copper of all supplies of a plan: each step of each solves the whole network anew."""


class OutOfEffort(BaseException):
    """Raised in the midst of what takes more than it may. No `except Exception` on the way keeps it."""


class _Effort(_local):
    """Of this thread: what an editor asks for meanwhile is not counted."""

    steps = 0.0
    end = inf
    scarce = inf
    last = inf
    ration = inf


_effort = _Effort()


def spend(steps: float) -> None:
    """Counts steps that were taken. Raises OutOfEffort where there were not so many left."""
    _effort.steps += steps
    if _effort.steps > _effort.end:
        raise OutOfEffort


def spent() -> float:
    """All steps that this thread has taken."""
    return _effort.steps


@contextmanager
def at_most(steps: float) -> Iterator[None]:
    """Raises OutOfEffort in the midst of what is done here once it takes more; whoever asks for less yet, gets less."""
    before = _effort.end
    _effort.end = min(before, _effort.steps + steps)
    try:
        yield
    finally:
        _effort.end = before


@contextmanager
def sparing(steps: float, last: float = inf) -> Iterator[None]:
    """So many steps may be taken here before work that only makes an answer better is to be left out, and so many more
    before whatever can be is."""
    before = _effort.scarce, _effort.last
    _effort.scarce = _effort.steps + steps
    _effort.last = _effort.scarce + last
    try:
        yield
    finally:
        _effort.scarce, _effort.last = before


def is_scarce() -> bool:
    """Whether the steps are taken in which an answer could be made better."""
    return _effort.steps > _effort.scarce


def is_spent() -> bool:
    """Whether the last steps are taken, too: only what must be told is still worked out."""
    return _effort.steps > _effort.last


@contextmanager
def rationing(steps: float) -> Iterator[None]:
    """So many steps are there for all that is done here: what chooses how far it goes, goes no further than `ration`.
    Whoever gets fewer yet, keeps to those."""
    before = _effort.ration
    _effort.ration = min(before, _effort.steps + steps)
    try:
        yield
    finally:
        _effort.ration = before


def ration() -> float:
    """How many steps are there for what makes an answer better; less than nothing where they were taken."""
    return min(_effort.ration, _effort.scarce) - _effort.steps


class Budget:
    """So many steps from now on."""

    def __init__(self, steps: float) -> None:
        self.end = spent() + steps

    @property
    def left(self) -> float:
        """How many are left; less than nothing where more were taken."""
        return self.end - spent()
