"""A layout that is being changed, thing by thing."""

from __future__ import annotations

from trackplan.statements import Feeder, Statement
from trackplan.typed import TypeVar

from .contacts import contacts_of
from .desk import Desk
from .drops import Dropper
from .ends import Ends
from .model import Fault, Layout, Piece
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

    def soldered(self, feeder: Feeder) -> Dropper:
        """The drops of a feeder."""
        dropper = Dropper(self.names, self.ends, self.power)
        dropper.when = contacts_of(feeder, self.names, self.ends.pieces)
        dropper.solder(feeder, self.names.whole(feeder.rail))
        return dropper

    def solder_again(self, old: Statement, feeder: Feeder) -> bool:
        """Puts a feeder's drops in the place of those of another one; False where that has none."""
        drops = self.layout.drops
        places = [place for place, drop in enumerate(drops) if drop.statement is old]
        if places:
            new = self.soldered(feeder).drops
            self.layout = self.layout._replace(drops=[*drops[: places[0]], *new, *drops[places[-1] + 1 :]])
        return bool(places)

    def put(self, piece: Piece) -> None:
        """A piece in the place of another of its name; what is soldered to that is soldered to this one."""
        self.ends = copy(self.ends)
        self.ends.pieces = self.layout.pieces | {piece.name: piece}
        on_it = {id(one.statement): one.statement for one in self.layout.drops if one.piece == piece.name}
        self.layout = self.layout._replace(pieces=self.ends.pieces)
        for feeder in on_it.values():
            self.solder_again(feeder, feeder)

    def done(self, faults: list[Fault]) -> Layout:
        """The layout as it is by now, to be changed again."""
        return self.layout._replace(faults=faults, desk=Desk(self.names, self.track, self.power, self.templates))
