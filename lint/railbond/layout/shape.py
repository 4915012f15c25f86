"""How a piece of trackwork is built and how it lies: told by its template, and nothing electrical hangs on it.

The dimensions of a frog follow from its number n, the gauge G, the flangeway F and the width h of a rail's head:

    points |<--------------- lead 2·G·n --------------->|<--- heel --->| frog end
                                           |< F·n >|< (2·h + c)·n >|
                                           throat  point     heads clear

- The lead is that of a circular curve from the points to the point of the frog (derived; real ones are shorter).
- The closure rails can come as near as the throat, where they are a flangeway apart, and the frog rails begin where
  their heads stand c = 0.02 in apart: between them a wheel has the frog alone (derived; c is an estimate).
- A frog with its frog rails is 0.76·G·n long, as an HO number 6 is of about 75 mm (common practice).

Where frogs lie along a kind of trackwork is said in that kind's own file.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping

from trackplan.record import NamedTuple
from trackplan.typed import Any

UNIT_PER_GAUGE = 0.76


class Size(NamedTuple):
    """A piece's frogs in whole micrometers, see above; `throat` and `clear` are the dead lengths before and behind the
    point of one, `obtuse` that of an obtuse frog. `told` says that the plan gives the dead length.

    `spread` is how far along the track two rails part by one micrometer: the number, or 1/sin of a wide angle. `length`
    is what the plan says of the piece itself, such as a bridge's length; 0 where it says nothing.
    """

    number: float
    gauge: int
    throat: int
    clear: int
    obtuse: int
    told: bool
    length: int = 0
    spread: float = 0.0

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

    def around(self, point: int) -> Place:
        """Where a frog is whose point, met from its throat, lies at a place."""
        return point - self.throat, point + self.clear


Place = tuple[int, int]
"""From where to where something lies along a rail, in micrometers."""

Places = Callable[[Size, tuple[str, str], str, int], tuple[int, list[Place]]]
"""The length of a piece and where the frogs of one of its rails lie, from the first of two ends to the other.

It is asked with the size, the two ends, the side of the rail looking from the first end, and how many frogs the
template has on that rail (a frog that is one metal with its rail is none).
"""


def behind_points(size: Size, ends: tuple[str, str], side: str, frogs: int) -> tuple[int, list[Place]]:
    """A turnout: its frog at the end of the lead."""
    return size.lead + size.heel, [size.around(size.lead)]


def at_equal_distances(size: Size, length: int, frogs: int) -> list[Place]:
    """Where frogs are taken to lie of which nothing better is known."""
    return [size.around(length * number // (frogs + 1)) for number in range(1, frogs + 1)]


class Outline(NamedTuple):
    """Where a drawing has the ends of a piece, seen with its looking direction to the east.

    `west` and `east` name the ends on the two sides, from bottom to top, `straight` the pairs between which track is
    drawn straight. `even` says that the piece has no straight route of its own: the pair is as good as another. A
    `tall` piece reaches over the lanes of all its ends, which leave it level. `places` tells where the tracks of a
    table come to its pit: degrees round it, counted from the east against the clock, or where it is not `round`
    meters along it. By `turn` degrees more a round one is turned as a whole.
    """

    west: tuple[str, ...]
    east: tuple[str, ...]
    straight: tuple[tuple[str, str], ...] = ()
    even: bool = False
    tall: bool = False
    places: Mapping[str, float] = {}
    round: bool = False
    turn: float = 0.0


class Shape(NamedTuple):
    """What a piece's statement tells of how it is built and lies; None or empty where that says nothing.

    `number` and `angle` (degrees) are of its frogs, and `dead` the length in meters over which a wheel has nothing but
    a frog. `length`, in meters, is of plain track or of a table's bridge, and `code` and `metal` are of its rail.
    `faced` gives, for an end at which points that a spring holds are met from their tips, the only end to go on to.
    """

    build: str = ""
    number: float | None = None
    angle: float | None = None
    dead: float | None = None
    length: float | None = None
    code: float | None = None
    metal: str = ""
    faced: Mapping[str, str] = {}
    places: Places = behind_points
    outline: Outline | None = None

    @classmethod
    def told(cls, statement: object, **how: Any) -> Shape:
        """The shape that a statement of trackwork tells; `how` is what its kind adds."""
        parts = {
            name: _number(getattr(statement, name, None)) for name in ("number", "angle", "dead", "length", "code")
        }
        words = {name: str(getattr(statement, name, None) or "") for name in ("build", "metal")}
        return cls(**(words | parts | how))


def _number(quantity: Any) -> float | None:
    return None if quantity is None else float(quantity)
