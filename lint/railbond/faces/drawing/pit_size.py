"""How large a table's pit is drawn, how much room it takes, and how high it lies between its tracks."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from math import ceil, cos, inf, radians, sin, sqrt

from railbond.layout.model import Piece

from .aprons import APRON, LEVEL, NEAR
from .scale import GAUGE, LANE

Wish = tuple[float, float]
"""The height of a pit that would suit a track, and how much more or less it has room for."""
LEAST_RADIUS, MOST_RADIUS = 50.0, 210.0
ROOM = GAUGE / 2 + 9
"""Between a pit's edge and the middle of track that passes by."""
STEEP, MORE = 0.6, 20
"""How far a track runs on, at least, for what it rises or falls from the pit to where it ends; and how much more than
seems necessary it may rise."""


def radius(piece: Piece) -> float:
    """How large a turntable's circle is: so that no two tracks touch at its edge."""
    angles = sorted(place % 360 for place in piece.template.outline.places.values())
    gaps = [b - a for a, b in pairwise(angles)] + ([360 + angles[0] - angles[-1]] if len(angles) > 1 else [])
    return min(max(LEAST_RADIUS, NEAR / radians(max(min(gaps, default=90.0), 1.0))), MOST_RADIUS)


def reach(piece: Piece) -> int:
    """How far east and west of its middle a tall piece's tracks come to their lanes: those of a table far enough not
    to be steep, if their lanes lie one beside the other."""
    drawn = piece.template.outline
    if not piece.template.bridge:
        return 46
    if not drawn.round:
        return round(44 + APRON + LEVEL + 0.5 * max(max(len(drawn.west), len(drawn.east)) * LANE / 2 - 35, 0))
    far = radius(piece) + APRON
    sides = [
        [(name, (place - len(side) // 2) * LANE) for place, name in enumerate(side)]
        for side in (drawn.west, drawn.east)
    ]
    turned = {name: radians(place + drawn.turn) for name, place in drawn.places.items()}
    off = [[(lane - sin(turned[name]) * far, inf) for name, lane in side] for side in sides]
    level = middle(off)
    runs = [
        abs(cos(turned[name])) * far + STEEP * (abs(one - level) + MORE)
        for side, own in zip(sides, off, strict=True)
        for (name, _), (one, _) in zip(side, own, strict=True)
    ]
    return round(max(runs, default=far) + LEVEL)


def lanes_of(piece: Piece) -> int:
    """How many lanes beside one another leave room for a table's pit."""
    drawn = piece.template.outline
    half = radius(piece) if drawn.round else transfer_pit(piece)[2]
    return ceil(2 * (half + ROOM) / LANE) - 1


def transfer_pit(piece: Piece) -> tuple[float, float, float]:
    """Of a transfer table's pit how large a meter is, at which place its middle lies, and half its length: its nearest
    two tracks just do not touch."""
    drawn = piece.template.outline
    sides = [sorted(drawn.places[name] for name in side) for side in (drawn.west, drawn.east)]
    gaps = [b - a for side in sides for a, b in pairwise(side)]
    low, high = min(drawn.places.values()), max(drawn.places.values())
    scale = min(NEAR / max(min(gaps, default=NEAR), 1e-3), 900 / max(high - low, 1e-3))
    return scale, (low + high) / 2, (high - low) / 2 * scale + NEAR


def middle(sides: Sequence[Sequence[Wish]]) -> float:
    """A height with little between it and those that would suit the tracks of each side, where they differ most: a
    lone track lies straight, and the middle of many as near as it can, unless that makes others steep."""
    wishes = [one for side in sides for one in side]
    around = [_between([height for height, _ in side]) for side in (*sides, wishes) if side]

    def strain(at: float) -> float:
        steep = sum(max(abs(height - at) - free, 0.0) for height, free in wishes)
        off = [max(abs(height - at) for height, _ in side) / sqrt(sqrt(len(side))) for side in sides if side]
        return 5 * steep + sum(off)

    return min(around, key=strain, default=0.0)


def _between(heights: Sequence[float]) -> float:
    return (min(heights) + max(heights)) / 2
