"""Sizes of the schematic, in its own units: pixels where it is shown at its full size."""

from __future__ import annotations

GAUGE = 14.0
"""From rail to rail, middle to middle."""
RAIL = 3.4
"""Width of a rail."""
LANE = 66
"""From one lane to the next."""
RUN = 88
"""How far a line that leaves its lane runs on until it is in the next one: 3 up for 4 on."""
LEAD = 16
"""From a turnout's points end to where its routes part."""
REACH = 42
"""From where a turnout's routes part to its two other ends."""
BEND = 30.0
"""Radius of the middle of a bend."""
CURVE = 66.0
"""The largest radius with which track doubles back."""
CLEAR = 34
"""Between two things of one lane that have nothing to do with each other."""
LEAST = 44
"""The least length of track that is drawn."""
TRIM = 3.5
"""How much of a rail is left out on each side of a cut."""
NAME = 13.0
PILL = 11.0
SMALL = 12.0
LARGE = 17.0
TITLE = 21.0
"""Heights of letters: of names, in labels, in the text below the picture, of modules' names, and of the title."""
