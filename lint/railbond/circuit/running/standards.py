"""Published dimensions of track and wheels by scale, in inches, and the head of a rail by its code.

Sources, each read as published by the National Model Railroad Association: gauge, flangeway and point spread S-3.2
(TT, N and HO fine RP-3), back to back S-4.2 (the same three RP-4), flange and tread RP-25, rail RP-15.1.
A gauge below without a published flangeway and spread is the scale's nominal one.
"""

from __future__ import annotations

from trackplan.record import NamedTuple

MICROMETERS_PER_INCH = 25_400
ASSUMED_SCALE = "HO"


class Wheel(NamedTuple):
    """A wheel of RP-25: its code, flange thickness T and tread width W, inches."""

    code: int
    flange: float
    tread: float


class Standard(NamedTuple):
    """A scale's track and wheels, inches. `spread` is the widest electrical point spread, over both blades;
    `back_to_back` the least between the backs of a pair of wheels."""

    gauge: float
    flangeway: float
    spread: float | None
    back_to_back: float | None
    wheel: Wheel
    rail_code: int


_WHEELS = {
    wheel.code: wheel
    for wheel in (
        Wheel(175, 0.048, 0.127), Wheel(126, 0.036, 0.090), Wheel(116, 0.031, 0.085), Wheel(110, 0.030, 0.080),
        Wheel(88, 0.025, 0.063), Wheel(79, 0.023, 0.056), Wheel(72, 0.020, 0.052), Wheel(54, 0.014, 0.040),
    )
}  # fmt: skip

STANDARDS = {
    "O": Standard(1.250, 0.079, 1.159, 1.118, _WHEELS[175], 148),
    "S": Standard(0.883, 0.050, 0.814, 0.800, _WHEELS[110], 100),
    "HO": Standard(0.649, 0.050, 0.590, 0.566, _WHEELS[110], 83),
    "HO-fine": Standard(0.649, 0.040, 0.600, 0.581, _WHEELS[88], 83),
    "TT": Standard(0.471, 0.033, 0.430, 0.415, _WHEELS[72], 55),
    "N": Standard(0.353, 0.025, 0.322, 0.314, _WHEELS[54], 55),
}
"""TT and N are those of the fine standards, where gauge, spread and back to back are given together."""

GAUGES = {"G": 1.772, "OO": 0.650, "HOn3": 0.413, "Z": 0.256, "On30": 0.649}
"""Nominal gauges of scales whose other dimensions are taken from HO in the same proportion."""

RAILHEADS = {250: 0.112, 148: 0.066, 100: 0.045, 83: 0.040, 70: 0.035, 55: 0.028}


def standard(scale: str | None) -> Standard:
    """The dimensions of a scale; those of HO, in proportion to the gauge, for one that has none here."""
    assumed = STANDARDS[ASSUMED_SCALE]
    if scale in STANDARDS:
        return STANDARDS[scale]
    ratio = GAUGES.get(scale or "", assumed.gauge) / assumed.gauge
    wheel = Wheel(0, assumed.wheel.flange * ratio, assumed.wheel.tread * ratio)
    return Standard(assumed.gauge * ratio, assumed.flangeway * ratio, None, None, wheel, assumed.rail_code)


def wheel_of(code: float | None, scale: str | None) -> Wheel:
    """The wheel of RP-25 that is nearest to a code; the scale's widest, where none is given."""
    if code is None:
        return standard(scale).wheel
    return _WHEELS[min(_WHEELS, key=lambda known: abs(known - code))]


def railhead(code: float) -> float:
    """The width of a rail's head, inches: published, between two codes in proportion, and beyond the last in
    proportion to it."""
    below = max((one for one in RAILHEADS if one <= code), default=min(RAILHEADS))
    above = min((one for one in RAILHEADS if one >= code), default=max(RAILHEADS))
    if below >= above:  # a row of the table, or beyond its ends
        return RAILHEADS[below] * code / below
    share = (code - below) / (above - below)
    return RAILHEADS[below] + share * (RAILHEADS[above] - RAILHEADS[below])


def blade_clearance(scale: str | None) -> float | None:
    """How far the back of a wheel stays from an open blade, inches, at the standards' worst; None where they are
    silent. The flange of the far wheel is against its rail, so this wheel's back stands back to back plus flange
    from it, and the blade at most the point spread."""
    track = standard(scale)
    if track.spread is None or track.back_to_back is None:
        return None
    return track.back_to_back + track.wheel.flange - track.spread
