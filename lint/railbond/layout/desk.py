"""What a layout was built with, so that one that differs in little can be told from it."""

from __future__ import annotations

from trackplan.record import NamedTuple

from .names import Names
from .pieces import TemplateMaker
from .terminals import Terminals
from .track import Track


class Desk(NamedTuple):
    """What a layout was built with."""

    names: Names
    track: Track
    power: Terminals
    templates: TemplateMaker

    def has_same_track(self, other: object) -> bool:
        """Whether the layouts of both were told from one another, and not laid anew."""
        return isinstance(other, Desk) and other.track.met is self.track.met
