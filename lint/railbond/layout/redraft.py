"""A layout that is being changed, thing by thing."""

from __future__ import annotations

from trackplan.typed import TypeVar

from .desk import Desk
from .ends import Ends
from .model import Fault, Layout
from .names import Names
from .terminals import Terminals
from .track import Track

Known = TypeVar("Known")


def copy(one: Known) -> Known:
    """Another with the same attributes. Python's own asks first what nothing here needs, and takes as long to load as
    a layout to make."""
    other = object.__new__(type(one))
    other.__dict__.update(one.__dict__)
    return other


class Redraft:
    """A layout that is being changed. What it is changed with are copies: of the layout that it began with nothing
    changes, and a fault that is told is none of that."""

    def __init__(self, layout: Layout, desk: Desk) -> None:
        self.layout, self.templates = layout, desk.templates
        self.names: Names = copy(desk.names)
        self.names.faults, self.names.missing = [], set(desk.names.missing)
        self.track: Track = copy(desk.track)
        self.track.names = self.names
        self.power: Terminals = copy(desk.power)
        self.power.names = self.names
        self.ends = copy(desk.track.ends)

    @property
    def ends(self) -> Ends:
        """The ends of the track."""
        return self.track.ends

    @ends.setter
    def ends(self, ends: Ends) -> None:
        self.track.ends = ends
        ends.names = self.names

    def done(self, faults: list[Fault]) -> Layout:
        """The layout as it is by now, to be changed again."""
        return self.layout._replace(faults=faults, desk=Desk(self.names, self.track, self.power, self.templates))
