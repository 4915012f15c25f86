"""Where along a piece of trackwork its frogs lie, and how long each leaves a wheel on no other metal.

A plan gives the number of the frog, or the angle of a crossing, and perhaps the length that is `dead`. The rest is
estimated from the number n, the gauge G, the flangeway F and the width h of a rail's head:

    points |<--------------- lead 2·G·n --------------->|<--- heel --->| frog end
                                           |< F·n >|< (2·h + c)·n >|
                                           throat  point     heads clear

- The lead is that of a circular curve from the points to the point of the frog (derived; real ones are shorter). On
  such curves the first frog of a three-way turnout, where its outer routes cross, lies at lead/√2.
- The closure rails can come as near as the throat, where they are a flangeway apart, and the frog rails begin where
  their heads stand c = 0.02 in apart: between them a wheel has the frog alone (derived; c is an estimate).
- A frog with its frog rails is 0.76·G·n long, as an HO number 6 is of about 75 mm (common practice).
- The acute frogs of a crossing lie G·n on either side of its middle, their throats towards it, and each obtuse frog
  G/4n beyond the middle as seen from the acute frog of its rail (derived). A rail is broken there by the other rail's
  head and two flangeways, over (2·F + h)·n. At wide angles 1/sin of the angle stands for n.
"""

from __future__ import annotations

from math import radians, sin, sqrt, tan
from typing import NamedTuple

from railbond.layout.model import Piece
from trackplan.statements import Crossing, Slip, ThreeWay

from . import micrometres
from .intervals import Interval
from .standards import MICROMETRES_PER_INCH, railhead, standard

ASSUMED_NUMBER = 6.0
HEAD_CLEARANCE = 0.02
UNIT_PER_GAUGE = 0.76


class Size(NamedTuple):
    """A frog's dimensions in micrometres, see above; `throat` and `clear` are the dead lengths before and behind its
    point. `told` says that the plan gives the dead length."""

    number: float
    gauge: int
    throat: int
    clear: int
    obtuse: int
    told: bool

    @property
    def dead(self) -> int:
        return self.throat + self.clear

    @property
    def lead(self) -> int:
        return round(2 * self.gauge * self.number)

    @property
    def run(self) -> int:
        """From the middle of a crossing to its acute frogs."""
        return round(self.gauge * self.number)

    @property
    def heel(self) -> int:
        return max(round(UNIT_PER_GAUGE * self.gauge * self.number) - self.throat, self.clear)


def size_of(piece: Piece, scale: str | None, rail_code: float) -> Size:
    """The dimensions of a piece's frogs, as far as the plan gives them and estimated otherwise."""
    track, head = standard(scale), railhead(rail_code)
    number, factor = _number(piece)
    inch = MICROMETRES_PER_INCH * factor
    throat, clear = track.flangeway * inch, (2 * head + HEAD_CLEARANCE) * inch
    obtuse = (2 * track.flangeway + head) * inch
    told = getattr(piece.statement, "dead", None)
    if told:
        ratio = micrometres(told) / (throat + clear)
        throat, clear, obtuse = throat * ratio, clear * ratio, micrometres(told)
    gauge = round(track.gauge * MICROMETRES_PER_INCH)
    return Size(number, gauge, round(throat), round(throat + clear) - round(throat), round(obtuse), bool(told))


def _number(piece: Piece) -> tuple[float, float]:
    """A frog's number, and by what the widths across the track are multiplied along it: the same, unless an angle says
    better."""
    angle = getattr(piece.statement, "angle", None)
    if angle is None:
        number = float(getattr(piece.statement, "number", None) or ASSUMED_NUMBER)
        return number, number
    angle = radians(min(max(float(angle), 1.0), 179.0))
    return 1 / (2 * tan(angle / 2)), 1 / sin(angle)


def frog_places(piece: Piece, size: Size, ends: tuple[str, str], side: str, frogs: int) -> tuple[int, list[Interval]]:
    """The length of a piece, and where so many frogs lie on one of its rails, from the first of two ends.

    One looks from that end to the other, along the piece; `side` is the rail's. More frogs than a kind is known to
    have lie at equal distances.
    """
    if isinstance(piece.statement, Crossing | Slip):
        length = 2 * (size.run + size.heel)
        acute_first = (ends[0][0] == "a") == (side == "left")
        places = _on_curve(size) if ends[0][0] != ends[1][0] else _on_straight(size, acute_first)
        found = sorted(places[:frogs])
    else:
        length = size.lead + size.heel
        points = [round(size.lead / sqrt(2)), size.lead] if isinstance(piece.statement, ThreeWay) else [size.lead]
        found = [Interval(one - size.throat, one + size.clear) for one in points[len(points) - frogs :]]
    return length, found if len(found) == frogs else _at_equal_distances(size, length, frogs)


def _at_equal_distances(size: Size, length: int, frogs: int) -> list[Interval]:
    points = [length * number // (frogs + 1) for number in range(1, frogs + 1)]
    return [Interval(one - size.throat, one + size.clear) for one in points]


def _on_curve(size: Size) -> list[Interval]:
    """The acute frogs of a crossing, both on the inner rail of a slip's curve."""
    one = Interval(size.heel - size.clear, size.heel + size.throat)
    length = 2 * (size.run + size.heel)
    return [one, Interval(length - one.stop, length - one.start)]


def _on_straight(size: Size, acute_first: bool) -> list[Interval]:
    """The acute frog of a crossing's rail, and its obtuse one: two, or the acute one alone where that is of metal."""
    off = round(size.gauge / (4 * size.number)) * (1 if acute_first else -1)
    middle = size.run + size.heel + off
    obtuse = Interval(middle - size.obtuse // 2, middle + size.obtuse // 2)
    return [_on_curve(size)[0 if acute_first else 1], obtuse]
