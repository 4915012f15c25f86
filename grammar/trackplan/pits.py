"""Tables that carry an engine from track to track over a pit. See `statements` for what the fields hold."""

from __future__ import annotations

from .quantities import Angle, Length
from .record import NamedTuple
from .span import Span, Word


class Turntable(NamedTuple):
    """`length` is that of the bridge, which has a head end and a tail."""

    at: Span
    name: Word
    length: Length


class TransferTable(NamedTuple):
    """`length` is that of the bridge, which moves sideways and is never turned."""

    at: Span
    name: Word
    length: Length


class ApproachTrack(NamedTuple):
    """Where a track comes to a table's pit; `track` is the end that it makes there, such as `TT.lead`.

    `place` is an angle round a turntable's pit, always counted the same way, or the distance along a transfer
    table's pit. A transfer table has tracks on both sides: `far` is the word of those across the pit.
    """

    at: Span
    track: Word
    place: Angle | Length
    far: Word | None = None


Table = Turntable | TransferTable
