"""A turntable: a bridge with a head end and a tail, and the approach tracks round its pit.

Seen from above, the head at the track `lead`:

    tail                                   head         TT.lead
    --- bridge left rail ---------------------    --- lead left rail ---
                                               gap
    --- bridge right rail --------------------    --- lead right rail --

The bridge's rails are seen looking from its tail to its head end, an approach track's looking outwards. Nothing but
a wheel joins bridge and track. Each heading of the head end is one position: `lead` with the head at that
track, `lead-turned` with the tail there; where another track lies opposite, the bridge stands at both, and the position
is called after the track at its head. With the tail at a track, the bridge's right rail leads to the track's
left one: the same rail of the bridge comes to each track's left rail one way round and to its right rail the
other, so a bridge that is turned needs a split ring or an auto-reverser.

    turntable       TT       30 cm
    approach-track  TT.lead  at 0 degrees
    approach-track  TT.pit   at 135 degrees
    segment         lead     stop -> TT.lead  1 m
    feeder          P1 -> TT.bridge  split at 67 degrees
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import lru_cache
from math import cos, radians, sin

from railbond.layout.shape import Shape
from railbond.layout.template import Impossible, Template
from trackplan.quantities import Angle
from trackplan.statements import Statement, Turntable

from .pit import Alignment, Approach, approaches, outline, pit

STEP, STEEP, COST = 15, 45, 40
"""By what steps a drawing turns a table, how steep a track may leave it, and what a degree of turning costs."""
TOLERANCE = 0.5
"""Degrees within which two headings are one: the bridge's rails meet the track's all the same."""


def template(statement: Turntable, work: tuple[Statement, ...], cuts: tuple[tuple[float, str], ...]) -> Template:
    """The table with the approach tracks of `work`, at degrees round its pit, always counted the same way.

    Raises `Impossible` for a track at a place that is no angle, or where another is.
    """
    tracks = approaches(work, Angle, "an angle, such as `at 30 degrees`")
    turn = _turn([track.place for track in tracks])
    angles = [(radians(track.place + turn), track) for track in tracks]
    drawn = outline([(cos(angle) >= 0, sin(angle), track) for angle, track in angles], is_round=True)
    return _template(tracks)._replace(shape=Shape.told(statement, outline=drawn._replace(turn=turn)))


def _turn(places: list[float]) -> float:
    """By how many degrees a drawing turns the whole table, so that the tracks of either side, which leave it level in
    the end, fan out as far upwards as downwards; as little as will do. A lone track is level from the start, and so
    are two that lead on across the table."""
    if len(places) == 1 or (len(places) == 2 and apart(places[0], places[1] + 180) <= TOLERANCE):
        return 90 - (places[0] + 90) % 180
    return min((turn * way for turn in range(0, 90, STEP) for way in (1, -1)), key=lambda one: _skew(places, one))


def _skew(places: list[float], turn: float) -> float:
    """How far the middles of the two fans lie from the level, and their steepest tracks from it, in square degrees."""
    fans: dict[bool, list[float]] = {True: [], False: []}
    for place in places:
        east = cos(radians(place + turn)) >= 0
        fans[east].append(apart(place + turn, 0 if east else 180) * (1 if sin(radians(place + turn)) > 0 else -1))
    middles = sum((sum(fan) / len(fan)) ** 2 for fan in fans.values() if fan)
    steep = sum(sum(max(abs(one) - STEEP, 0) ** 2 for one in fan) / len(fan) for fan in fans.values() if fan)
    return middles + 4 * steep + COST * abs(turn)


@lru_cache(maxsize=256)
def _template(tracks: tuple[Approach, ...]) -> Template:
    headings = {track.name: track.place % 360 for track in tracks}
    names = list(headings)
    for one, other in ((one, other) for place, one in enumerate(names) for other in names[:place]):
        if apart(headings[one], headings[other]) <= TOLERANCE:
            raise Impossible(f"`{one}` and `{other}` cannot both come to the pit at {headings[one]:g} degrees")
    if clash := next((name for name in names if name.removesuffix("-turned") in names and "-turned" in name), ""):
        raise Impossible(f"`{clash}` is what the bridge's heading is called: give the track another name")
    turned = {f"{one}-turned": (at + 180) % 360 for one, at in headings.items() if not _at(headings, at + 180)}
    stands = {position: tuple(_stands(headings, head)) for position, head in (headings | turned).items()}
    return pit(tracks, stands, headings | turned)


def _at(headings: dict[str, float], place: float) -> list[str]:
    """The tracks at an angle."""
    return [name for name, at in headings.items() if apart(at, place) <= TOLERANCE]


def _stands(headings: dict[str, float], head: float) -> Iterator[Alignment]:
    """The tracks at the bridge's ends while its head is at an angle."""
    yield from (Alignment(name, True) for name in _at(headings, head))
    yield from (Alignment(name, False) for name in _at(headings, head + 180))


def apart(one: float, other: float) -> float:
    """The degrees between two headings, at most 180."""
    return abs((one - other + 180) % 360 - 180)
