"""A transfer table: a bridge that moves sideways in its pit, and the approach tracks on both sides of that.

Seen from above, the bridge at the near track `shop` and at the far one `shed`, which lies opposite:

    TB.shop              near end                 far end           TB.shed
    --- shop right rail ---   --- bridge left rail ----   --- shed left rail ---
                          gap                          gap
    --- shop left rail ----   --- bridge right rail ---   --- shed right rail --

The bridge's rails are seen looking from the near side to the far one, an approach track's looking outwards. Each
place of the bridge is one position, called after the near track there, or else the far one. It is never turned, so
plain drops to it do, as long as the tracks themselves agree.

    transfer-table  TB       40 cm
    approach-track  TB.shop  at 20 cm
    approach-track  TB.shed  at 20 cm  far-side
    feeder          P1 -> TB.bridge
"""

from __future__ import annotations

from functools import lru_cache

from railbond.layout.shape import Shape
from railbond.layout.template import Impossible, Template
from trackplan.quantities import Length
from trackplan.statements import Statement, TransferTable

from .pit import Alignment, Approach, approaches, outline, pit

TOLERANCE = 0.001
"""Meters within which two tracks lie opposite each other: the bridge's rails meet both."""


def template(statement: TransferTable, work: tuple[Statement, ...], cuts: tuple[tuple[float, str], ...]) -> Template:
    """The table with the approach tracks of `work`, at meters along its pit.

    Raises `Impossible` for a track at a place that is no length, or where another is on the same side.
    """
    tracks = approaches(work, Length, "a distance along the pit, such as `at 40 cm`")
    drawn = outline([(track.far, track.place, track) for track in tracks], is_round=False)
    return _template(tracks)._replace(shape=Shape.told(statement, outline=drawn))


@lru_cache(maxsize=256)
def _template(tracks: tuple[Approach, ...]) -> Template:
    stands: dict[str, tuple[Alignment, ...]] = {}
    for track in sorted(tracks, key=lambda one: one.far):
        there = [one for one in tracks if abs(one.place - track.place) <= TOLERANCE]
        if same := [one.name for one in there if one.far == track.far and one is not track]:
            raise Impossible(f"`{track.name}` and `{same[0]}` cannot both come to the pit at the same place")
        if not any(one.name in stands for one in there):
            stands[track.name] = tuple(Alignment(one.name, one.far) for one in there)
    return pit(tracks, stands)
