"""The cautions that stand on every paper for the bench."""

from __future__ import annotations

from railbond.care import CAUTIONS

from .teaching import GENERAL_CAUTIONS

_, MAINS, SHORT, _ = GENERAL_CAUTIONS

SOLDERING = (
    "Pull the power supply's plug before you cut or solder anything, and take the engines off the track.",
    CAUTIONS["cuts"],
    CAUTIONS["solders"],
    CAUTIONS["rewires"],
    MAINS,
)
METER = (
    "Pull the plug of every power supply first, then take the bus wires off the boosters, and the wires off "
    "detectors, reversers and automatic frog units. A meter set to ohms or to beep is for track without power "
    "only.",
    "Take engines, lighted cars and everything else with a decoder off the track, and unscrew lamps: the "
    "meter would read through them, and may harm them.",
    "Touch the two leads together first: what you then read is the leads themselves. Put the sheet away and "
    "the plug in only when every box is ticked.",
    MAINS,
    SHORT,
)
