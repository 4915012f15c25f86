"""How large a piece's frogs are: as far as its plan says, and estimated otherwise.

A plan gives the number of the frog, or the angle of a crossing, and perhaps the length that is `dead`. The rest follows
from the scale's gauge and flangeway and the rail's head, as `layout.shape` has it. An obtuse frog breaks a rail over
(2·F + h)·n, for a flangeway F and a head of h. At wide angles 1/sin of the angle stands for n.
"""

from __future__ import annotations

from math import radians, sin, tan

from railbond.layout.model import Piece
from railbond.layout.shape import Place, Size, at_equal_distances

from . import micrometers
from .standards import MICROMETERS_PER_INCH, railhead, standard

ASSUMED_NUMBER = 6.0
HEAD_CLEARANCE = 0.02


def size_of(piece: Piece, scale: str | None, rail_code: float) -> Size:
    """The dimensions of a piece's frogs, as far as the plan gives them and estimated otherwise."""
    shape, track, head = piece.template.shape, standard(scale), railhead(rail_code)
    number, factor = _number(shape.number, shape.angle)
    inch = MICROMETERS_PER_INCH * factor
    throat, clear = track.flangeway * inch, (2 * head + HEAD_CLEARANCE) * inch
    obtuse = (2 * track.flangeway + head) * inch
    if shape.dead:
        ratio = micrometers(shape.dead) / (throat + clear)
        throat, clear, obtuse = throat * ratio, clear * ratio, micrometers(shape.dead)
    gauge, length = round(track.gauge * MICROMETERS_PER_INCH), micrometers(shape.length or 0.0)
    behind = max(round(throat + clear) - round(throat), 1)  # of a dead length that is told as too short
    return Size(number, gauge, round(throat), behind, round(obtuse), bool(shape.dead), length, factor)


def _number(number: float | None, angle: float | None) -> tuple[float, float]:
    """A frog's number, and by what the widths across the track are multiplied along it: the same, unless an angle says
    better."""
    if angle is None:
        number = number or ASSUMED_NUMBER
        return number, number
    angle = radians(min(max(angle, 1.0), 179.0))
    return 1 / (2 * tan(angle / 2)), 1 / sin(angle)


def frog_places(piece: Piece, size: Size, ends: tuple[str, str], side: str, frogs: int) -> tuple[int, list[Place]]:
    """The length of a piece, and where so many frogs lie on one of its rails, from the first of two ends.

    One looks from that end to the other, along the piece; `side` is the rail's. More frogs than a kind is known to
    have lie at equal distances.
    """
    length, found = piece.template.shape.places(size, ends, side, frogs)
    return length, found if len(found) == frogs else at_equal_distances(size, length, frogs)
