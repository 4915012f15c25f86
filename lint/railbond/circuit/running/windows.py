"""A stretch of track under and around an engine, along one way that it can go."""

from __future__ import annotations

from railbond.circuit.graph import Setting
from trackplan.record import NamedTuple

from .geometry import Leg

OPEN, STOP, AWAY = "open", "stop", "away"
"""How a window ends: track that was not looked at yet; where a train cannot go on; track that the plan does not show,
and that is taken to be live."""


class Window(NamedTuple):
    """Legs in a row and where each begins, in micrometers from where the one in question does; `stop` is where the
    last one ends. `before` and `behind` tell how the window ends, and `setting` how its points stand."""

    legs: tuple[Leg, ...]
    starts: tuple[int, ...]
    stop: int
    before: str
    behind: str
    setting: Setting

    def with_last(self, leg: Leg, setting: Setting) -> Window:
        """The window with one leg more behind it."""
        legs, starts = (*self.legs, leg), (*self.starts, self.stop)
        return Window(legs, starts, self.stop + leg.length, self.before, self.behind, self.setting | setting)

    def with_first(self, leg: Leg, setting: Setting) -> Window:
        """The window with one leg more before it."""
        legs, starts = (leg, *self.legs), (self.starts[0] - leg.length, *self.starts)
        return Window(legs, starts, self.stop, self.before, self.behind, self.setting | setting)
