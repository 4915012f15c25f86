"""Where the ends of a piece lie in the picture, as seen with its looking direction to the east."""

from __future__ import annotations

from typing import NamedTuple

from railbond.layout.model import Piece
from trackplan.statements import Turnout


class Outline(NamedTuple):
    """The ends on the two sides, from bottom to top, and the pairs of ends between which track is drawn straight.

    `even` says that the piece itself has no straight route: the pair is as good as another.
    """

    west: tuple[str, ...]
    east: tuple[str, ...]
    straight: tuple[tuple[str, str], ...]
    even: bool = False


TURNOUTS = {
    "left": Outline(("points",), ("through", "diverging"), (("points", "through"),)),
    "right": Outline(("points",), ("diverging", "through"), (("points", "through"),)),
    "wye": Outline(("points",), ("right", "left"), (("points", "left"),), even=True),
}


def outline(piece: Piece) -> Outline:
    """The outline of a piece. Of one that is not known by its kind, the ends at which its looking direction comes
    in lie to the west, in the order in which its template names them."""
    if isinstance(piece.statement, Turnout):
        return TURNOUTS[piece.statement.hand]
    ends = piece.template.ends
    west = tuple(name for name, end in ends.items() if not end.leaves)
    east = tuple(name for name, end in ends.items() if end.leaves)
    return Outline(west, east, tuple(zip(west, east, strict=False)))
