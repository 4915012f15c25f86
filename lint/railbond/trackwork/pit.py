"""What the tables that carry an engine over a pit have in common: a bridge, and the tracks that its ends come to."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from railbond.layout.shape import Outline
from railbond.layout.template import End, Impossible, Metal, Pass, Template
from trackplan.record import NamedTuple
from trackplan.statements import ApproachTrack, Statement

BRIDGE = (0, 1)
"""The metals of the bridge, left and right looking from its tail to its head end."""


class Approach(NamedTuple):
    """A track that comes to the pit, at an angle in degrees or so many meters along it, and on which side."""

    name: str
    place: float
    far: bool


class Alignment(NamedTuple):
    """A track at one of the bridge's ends: its head or its tail."""

    track: str
    head: bool


def approaches(work: tuple[Statement, ...], kind: type, wanted: str) -> tuple[Approach, ...]:
    """The approach tracks of a table, by their places. Raises `Impossible` where one is not of the kind `wanted`."""
    found: dict[str, Approach] = {}
    for one in work:
        if isinstance(one, ApproachTrack):
            name = one.track.rpartition(".")[2]
            if not isinstance(one.place, kind):
                raise Impossible(f"`{one.place.text}` is no place at this table's pit: expected {wanted}")
            if name in found:
                raise Impossible(f"the track `{one.track}` already has its place at the pit")
            if name == "bridge":
                raise Impossible(f"`{one.track}` is the bridge itself: give the track another name")
            found[name] = Approach(name, float(one.place), one.far is not None)
    return tuple(sorted(found.values(), key=lambda one: (one.place, one.far, one.name)))


def pit(
    tracks: tuple[Approach, ...],
    stands: Mapping[str, tuple[Alignment, ...]],
    headings: Mapping[str, float] | None = None,
) -> Template:
    """The template of a table: for each position of its bridge, what it stands at.

    The bridge is part 0 and each track a part of its own: which way round they lie is not settled once for all.
    """
    first = {track.name: 2 + 2 * number for number, track in enumerate(tracks)}
    rails = [Metal(f"{name} {side} rail") for name in ("bridge", *first) for side in ("left", "right")]
    return Template(
        tuple(rails),
        (),
        tuple(_passes(stands, first)),
        {name: _end(name, place, stands) for name, place in first.items()},
        tuple(stands),
        parts=1 + len(tracks),
        bridge=BRIDGE,
        headings=headings or {},
    )


def outline(tracks: Sequence[tuple[bool, float, Approach]], is_round: bool) -> Outline:
    """The drawing of a pit: for each track whether it lies to the east, and how high up."""
    order = [(east, height, track.name) for east, height, track in tracks]
    west, east = (tuple(name for is_east, _, name in sorted(order) if is_east == side) for side in (False, True))
    places = {track.name: track.place for _, _, track in tracks}
    return Outline(west, east, tall=True, places=places, round=is_round)


def _passes(stands: Mapping[str, tuple[Alignment, ...]], first: Mapping[str, int]) -> Iterator[Pass]:
    """From the bridge onto each track that it stands at; over its tail one looks the other way."""
    for position, at in stands.items():
        for stand in at:
            left, right = BRIDGE if stand.head else BRIDGE[::-1]
            yield Pass(left, first[stand.track], position)
            yield Pass(right, first[stand.track] + 1, position)


def _end(name: str, left: int, stands: Mapping[str, tuple[Alignment, ...]]) -> End:
    routes = (position for position, at in stands.items() if any(stand.track == name for stand in at))
    return End(left, left + 1, leaves=True, routes=tuple(routes), part=left // 2)
