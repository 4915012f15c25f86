"""What may be asked for when a plan is wired, and what each thing costs."""

from __future__ import annotations

import re
from typing import Literal, NamedTuple

from railbond.layout.limits import limit
from railbond.layout.model import Layout

from .lengths import METERS, Lengths

Feeds = Literal["contacts", "units"]
Spread = Literal["by-distance", "every-piece"]
Standard = Literal["AWG", "mm2"]
Rebuild = Literal["nothing", "bonds", "cuts"]


class WiringWishes(NamedTuple):
    """The choices of the trade. `frogs`: fed through contacts, or from automatic units. `drops`: as few as the spacing
    limit allows, or a pair to every piece. `wire`: the standard of the sizes, that of the plan unless said. `rebuild`:
    what may be done to turnouts: nothing, bonds and cut jumpers, or cuts around the frog too. `lengths`: how the plan
    tells its own."""

    frogs: Feeds = "contacts"
    drops: Spread = "by-distance"
    wire: Standard | None = None
    rebuild: Rebuild = "cuts"
    lengths: Lengths = METERS

    @property
    def bus_sizes(self) -> tuple[str, ...]:
        """Sizes of bus runs, the thinnest first: what is sold for it."""
        return ("14 AWG", "12 AWG", "10 AWG") if self.wire != "mm2" else ("2.5 mm2", "4 mm2", "6 mm2")

    @property
    def first_run(self) -> str:
        """A run from a booster or plug to the track, of which the plan does not tell how far that is."""
        return f"{self.lengths.words(self.lengths.first)}  {self.bus_sizes[0]}"

    @property
    def drop_sizes(self) -> tuple[str, ...]:
        """Sizes of drops that can still be soldered to a rail."""
        return ("22 AWG", "20 AWG", "18 AWG") if self.wire != "mm2" else ("0.5 mm2", "0.75 mm2", "1 mm2")


class WiringCosts(NamedTuple):
    """What each thing costs: a wire soldered to a rail is 1 unless the plan says otherwise, and so is a rail that is
    cut; `bus` is for each meter, `copper` for each meter and each mm2 by which a wire is thicker than usual, `bond` for
    the two jumpers of a turnout, `contact` for one changeover contact. Common practice, minutes at the bench and the
    price of parts put together; a plan sets its own by `limit drop-cost 2`."""

    drop: float
    cut: float
    bus: float
    copper: float
    bond: float
    contact: float
    unit: float
    reverser: float
    breaker: float
    booster: float


def costs_of(layout: Layout) -> WiringCosts:
    """The costs as a plan sets them, else the usual ones."""
    return WiringCosts(**{name: limit(layout, f"{name}-cost") or 0.0 for name in WiringCosts._fields})


NO_WISHES = WiringWishes()


def standard_of(text: str) -> Standard:
    """The standard of the sizes that a plan has already."""
    return "mm2" if re.search(r"\d\s*mm[2²]", text) and not re.search(r"\d\s*AWG", text) else "AWG"
