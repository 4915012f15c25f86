"""How large the numbers of a plan usually are: only one far from it is suspected of a wrong unit.

Common practice, from memory, wide enough for any scale from N to large scale indoors; nothing here forbids anything.
"""

from __future__ import annotations

from trackplan.pits import ApproachTrack
from trackplan.quantities import Angle, Current, Length, Quantity, Voltage, WireSize
from trackplan.special import Crossing, Scissors, Slip, Stub, ThreeWay, Turnout
from trackplan.statements import (
    Booster,
    Bus,
    Cab,
    District,
    Engine,
    Feeder,
    FrogAutomatic,
    Lamp,
    Reverser,
    Segment,
    Statement,
    Train,
)

Range = tuple[float, float]

USUAL: dict[type, dict[type, Range]] = {
    Segment: {Length: (0.08, 15.0)},
    Bus: {Length: (0.2, 30.0), WireSize: (0.3, 7.0)},
    Feeder: {Length: (0.03, 12.0), WireSize: (0.1, 2.6), Angle: (0.0, 360.0)},
    ApproachTrack: {Length: (0.05, 2.0)},
    Train: {Length: (0.15, 12.0)},
    Engine: {Length: (0.0, 0.9), Current: (0.05, 5.0)},
    Booster: {Voltage: (8.0, 27.0), Current: (0.5, 20.0)},
    Cab: {Voltage: (6.0, 24.0), Current: (0.2, 10.0)},
    District: {Current: (0.1, 12.0)},
    Reverser: {Current: (0.3, 12.0)},
    FrogAutomatic: {Current: (0.1, 12.0)},
    Lamp: {Current: (0.002, 0.5)},
    **dict.fromkeys((Turnout, Stub, ThreeWay, Crossing, Slip, Scissors), {Length: (0.001, 0.12)}),
}
"""Least and most of each kind of number of a statement: meters, amperes, volts, square millimeters."""


def is_usual(statement: Statement, quantity: Quantity) -> bool:
    """Whether a number is of the size that such a number has; so is one of which nothing is known."""
    known = USUAL.get(type(statement), {})
    least, most = next((one for kind, one in known.items() if isinstance(quantity, kind)), (0.0, float("inf")))
    return least <= quantity <= most
