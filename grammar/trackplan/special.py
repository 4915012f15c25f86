"""Special trackwork: all that has a frog. See `statements` for what the fields hold."""

from __future__ import annotations

from .construction import Construction
from .quantities import Angle, Length, Number
from .record import NamedTuple
from .span import Span, Word


class Turnout(NamedTuple):
    """`hand` is left, right or wye; `build` dead-, live-, isolated-, movable- or sprung-frog.

    `dead` is the length along the track in which a wheel stands on a frog and on no other metal. `sprung` is
    the route for which a spring holds the points; a train from the other one pushes them aside.
    """

    at: Span
    name: Word
    hand: Word
    number: Number | None
    build: Word
    dead: Length | None = None
    sprung: Word | None = None


class Stub(NamedTuple):
    """A turnout without blades: two rails move from lead to lead. `hand` is left or right."""

    at: Span
    name: Word
    hand: Word
    number: Number | None
    build: Word
    dead: Length | None = None


class ThreeWay(NamedTuple):
    """`shape` is `symmetrical`, or `staggered left` or `right` by the route whose points come first."""

    at: Span
    name: Word
    shape: Word
    number: Number | None
    build: Word
    dead: Length | None = None


class Crossing(NamedTuple):
    """Two tracks that cross at `angle`, without points."""

    at: Span
    name: Word
    angle: Angle
    build: Word
    dead: Length | None = None


class Slip(NamedTuple):
    """A crossing with points for one curve from track to track, or two: `slips` is single or double."""

    at: Span
    name: Word
    slips: Word
    number: Number | None
    build: Word
    dead: Length | None = None


class Scissors(NamedTuple):
    """Two parallel tracks and both crossovers between them: four turnouts, and a crossing at `angle`."""

    at: Span
    name: Word
    number: Number | None
    build: Word
    angle: Angle | None
    dead: Length | None = None


class Gauntlet(NamedTuple):
    """Two tracks that lie within one another without points, `length` from frog to frog."""

    at: Span
    name: Word
    length: Length
    number: Number | None
    build: Word
    dead: Length | None = None


SpecialWork = Turnout | Stub | ThreeWay | Crossing | Slip | Gauntlet | Construction
"""Trackwork with a frog: what is bonded, cut and fed besides plain track."""

ASSEMBLIES: tuple[type, ...] = (Scissors,)
"""What stands for several pieces."""
