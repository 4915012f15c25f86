"""The statements about what runs: engines and trains. `statements` says how every statement is made."""

from __future__ import annotations

from .quantities import Current, Duration, Length, Speed
from .record import NamedTuple
from .span import Span, Word


class Engine(NamedTuple):
    """Pickup wheels along each rail, all as distances back from one place, such as the foremost wheel.

    `left` is the engineer's left, looking ahead. Pickups of a tender or a truck are told as they stand on straight
    track. `unweighted` are places of wheels among them that bear little weight: they pick up from clean rail
    only. `capacitor` is how long the engine runs on without power, at the pace it `crawls`.
    """

    at: Span
    name: Word
    left: tuple[Length, ...]
    right: tuple[Length, ...]
    current: Current
    unweighted: tuple[Length, ...] | None = None
    capacitor: Duration | None = None
    crawls: Speed | None = None


class Train(NamedTuple):
    """`metal` is the length from its first to its last metal wheel, where the cars behind have plastic ones."""

    at: Span
    name: Word
    length: Length
    metal: Length | None = None
