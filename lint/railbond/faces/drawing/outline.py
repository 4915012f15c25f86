"""Where the ends of a piece lie in the picture, as seen with its looking direction to the east."""

from __future__ import annotations

from math import cos, radians, sin
from typing import NamedTuple

from railbond.layout.model import Piece
from trackplan.statements import (
    ApproachTrack,
    Crossing,
    Slip,
    Stub,
    ThreeWay,
    TransferTable,
    Turnout,
    Turntable,
)


class Outline(NamedTuple):
    """The ends on the two sides, from bottom to top, and the pairs of ends between which track is drawn straight.

    `even` says that the piece itself has no straight route: the pair is as good as another. A `tall` piece reaches over
    the lanes of all its ends, which leave it level.
    """

    west: tuple[str, ...]
    east: tuple[str, ...]
    straight: tuple[tuple[str, str], ...]
    even: bool = False
    tall: bool = False


THREE_WAY = Outline(("points",), ("right", "through", "left"), (("points", "through"),))
CROSSING = Outline(("a1", "b1"), ("b2", "a2"), (("a1", "a2"),))
TURNOUTS = {
    "left": Outline(("points",), ("through", "diverging"), (("points", "through"),)),
    "right": Outline(("points",), ("diverging", "through"), (("points", "through"),)),
    "wye": Outline(("points",), ("right", "left"), (("points", "left"),), even=True),
}


def outline(piece: Piece) -> Outline:
    """The outline of a piece. Of one that is not known by its kind, the ends at which its looking direction comes
    in lie to the west, in the order in which its template names them."""
    statement, ends = piece.statement, piece.template.ends
    if isinstance(statement, Turnout | Stub):
        return TURNOUTS[statement.hand.rpartition(" ")[2]]
    if isinstance(statement, ThreeWay):
        return THREE_WAY
    if isinstance(statement, Crossing | Slip):
        return CROSSING
    if isinstance(statement, Turntable | TransferTable):
        return _table(piece)
    west = tuple(name for name, end in ends.items() if not end.leaves)
    east = tuple(name for name, end in ends.items() if end.leaves)
    few = max(len(west), len(east)) < 3
    return Outline(west, east, tuple(zip(west, east, strict=False)) if few else (), tall=not few)


def _table(piece: Piece) -> Outline:
    """The tracks round a pit: by their angle, or at a transfer table by their side and place."""
    tracks = [one for one in piece.work if isinstance(one, ApproachTrack)]
    east: list[tuple[float, str]] = []
    west: list[tuple[float, str]] = []
    for track in tracks:
        name, place = track.track.rpartition(".")[2], float(track.place)
        if isinstance(piece.statement, Turntable):
            side, height = cos(radians(place)) >= 0, sin(radians(place))
        else:
            side, height = track.far is not None, place
        (east if side else west).append((height, name))
    return Outline(tuple(name for _, name in sorted(west)), tuple(name for _, name in sorted(east)), (), tall=True)
