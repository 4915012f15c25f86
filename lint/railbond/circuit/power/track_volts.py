"""The volts that the standard gives for the track of each scale."""

from __future__ import annotations

from trackplan.record import NamedTuple


class Volts(NamedTuple):
    """NMRA S-9.1 table 3 (2020), volts at the track."""

    least: float
    usual: float
    most: float
    stood: float
    """What a decoder must stand at least."""


SMALL = Volts(8.5, 12.0, 22.0, 24.0)
MIDDLE = Volts(8.5, 15.0, 22.0, 27.0)
SCALES = {"Z": SMALL, "N": SMALL, "TT": MIDDLE, "HO": MIDDLE, "S": MIDDLE, "O": MIDDLE}
"""TT is not told apart there; the limits are the same. The largest scales are left out: their most is printed
inconsistently."""


def for_scale(scale: str | None) -> Volts | None:
    """The volts for a scale, or a narrow gauge of it such as HOn3; without a scale what all of them share."""
    if scale is None:
        return MIDDLE
    name = scale.upper().replace("0", "O")
    known = max((one for one in SCALES if name.startswith(one)), key=len, default=None)
    return SCALES[known] if known else None
