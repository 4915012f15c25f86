"""Every single mistake that somebody may make at the bench with a plan."""

from __future__ import annotations

from itertools import chain

from railbond.circuit.wiring import Wiring

from .bonds import Bonds
from .frog_mistakes import frog_mistakes, other_mistakes
from .metal_mistakes import gap_mistakes, metalwork_mistakes
from .mistake import Mistake
from .wire_mistakes import bus_mistakes, drop_mistakes


def mistakes(wiring: Wiring) -> list[Mistake]:
    """The mistakes of a layout, kind by kind."""
    bonds = Bonds(wiring)
    kinds = (bus_mistakes, drop_mistakes, gap_mistakes, metalwork_mistakes, frog_mistakes, other_mistakes)
    return list(chain.from_iterable(kind(bonds) for kind in kinds))
