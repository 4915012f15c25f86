"""Analog power, and wires that several supplies share. `statements` says how every statement is made."""

from __future__ import annotations

from .quantities import Current, Voltage
from .record import NamedTuple
from .span import Span, Word


class Cab(NamedTuple):
    """Analog power: a throttle whose voltage is the speed and whose polarity the direction of the engine."""

    at: Span
    name: Word
    voltage: Voltage
    current: Current
    legs: tuple[Word, Word] | None = None


class Common(NamedTuple):
    """The legs called `leg` of these supplies are one wire, and so is the rail that they feed: a common rail."""

    at: Span
    leg: Word
    supplies: tuple[Word, ...]
