"""The layout of a plan of which only wires, or lengths of track, differ from one whose layout is known.

Most of what is tried on a plan in the head is a wire turned round, moved or taken from elsewhere, or another number.
Track, joints and supplies are then as they were, and so is every other wire.
"""

from __future__ import annotations

from collections.abc import Sequence

from trackplan.record import NamedTuple
from trackplan.span import Span
from trackplan.statements import Bus, Feeder, FrogFromStockRails, FrogSwitched, Segment, Statement

from .contacts import contacts_of
from .doubts import LONGEST, SHORTEST, is_long_for_a_drop
from .drops import Dropper
from .ends import Ends
from .frogs import fed_by
from .model import Fault, Layout, Piece
from .names import Names
from .pieces import TemplateMaker
from .shape import Shape
from .template import Impossible, Template
from .terminals import Terminals

REWIRED = 0.2
"""What such a layout takes, as a part of what it takes anew."""

Contacts = FrogSwitched | FrogFromStockRails


class Desk(NamedTuple):
    """What a layout was built with."""

    names: Names
    ends: Ends
    power: Terminals
    templates: TemplateMaker


def rewired(before: Layout, old: Sequence[Statement], new: Sequence[Statement]) -> Layout | None:
    """The layout of the `new` statements, where that `before` is of the `old` ones; None where more than wires and
    lengths differs, or where a name is not known: what it may be taken for hangs on the whole plan."""
    changed = [(one, other) for one, other in zip(old, new, strict=False) if one is not other]
    if len(old) != len(new) or not isinstance(before.desk, Desk) or before.desk.names.missing:
        return None
    if any(supply.kind == "plug" for supply in before.supplies.values()):  # what a module's wires call it is its name
        return None
    wires = _Wires(before, before.desk)
    for one, other in changed:
        if one.at.start == one.at.end or not wires.change(one, other):  # several that are added may be at one place
            return None
    faults = _with_own(before.faults, changed, wires.names.faults)
    return None if faults is None else wires.layout._replace(faults=faults)


def _with_own(
    faults: list[Fault], changed: Sequence[tuple[Statement, Statement]], new: list[Fault]
) -> list[Fault] | None:
    """The faults of the layout, in the place of those of a wire that was changed what is wrong with it now; None where
    that cannot be told."""
    if not faults and not new:
        return faults
    own = [place for place, fault in enumerate(faults) if any(_is_within(fault.at, one.at) for one, _ in changed)]
    is_of_wires = all(isinstance(one, Feeder) for one, _ in changed) and (len(changed) == 1 or not new)
    if (
        not is_of_wires
        or (new and not own)
        or any(fault.rule != "impossible" for fault in (*new, *map(faults.__getitem__, own)))
    ):
        return None
    left = [fault for place, fault in enumerate(faults) if place not in own]
    return left[: own[0]] + new + left[own[0] :] if own else left


def _is_within(at: Span, line: Span) -> bool:
    return at.path == line.path and line.start <= at.start and at.end <= line.end


def has_same_metal(before: Layout, after: Layout) -> bool:
    """Whether a layout that was told from another one has its metals, however long these are."""
    if before.meetings is not after.meetings:  # it was laid out anew
        return False
    pairs = zip(before.pieces.values(), after.pieces.values(), strict=True)
    return all(one is other or _bare(one.template) == _bare(other.template) for one, other in pairs)


def _bare(template: Template) -> Template:
    """A template without its lengths, and without what its rail is made of."""
    metals = tuple(metal._replace(stop=0.0) for metal in template.metals)
    return template._replace(metals=metals, shape=Shape())


class _Wires:
    """Changes wires and lengths of a layout one by one. Names are looked up in a copy: a fault told is none of the
    layout's."""

    def __init__(self, layout: Layout, desk: Desk) -> None:
        from copy import copy

        self.layout, self.ends, self.templates = layout, desk.ends, desk.templates
        self.names: Names = copy(desk.names)
        self.names.faults = []
        self.power: Terminals = copy(desk.power)
        self.power.names = self.names

    def change(self, old: Statement, new: Statement) -> bool:
        """Whether it is a wire that can be changed by itself."""
        if isinstance(old, Feeder) and isinstance(new, Feeder):
            return self._feeder(old, new)
        if isinstance(old, Bus) and isinstance(new, Bus):
            return self._run(old, new)
        if isinstance(old, Contacts) and isinstance(new, Contacts):
            return self._contacts(old, new)
        if isinstance(old, Segment) and isinstance(new, Segment):
            return self._segment(old, new)
        return False

    def _is_known(self, word: str) -> bool:
        name = self.names.whole(word)
        return name in self.power.legs or name.rpartition(".")[0] in self.power.legs

    def _feeder(self, old: Feeder, new: Feeder) -> bool:
        places = self._places(old)
        if not places or not self._is_known(new.supply) or is_long_for_a_drop(new):
            return False
        self._solder(new, places[0], places[-1])
        return True

    def _solder(self, feeder: Feeder, first: int, last: int) -> None:
        """A feeder's drops in the place of those from `first` to `last`."""
        dropper = Dropper(self.names, self.ends, self.power)
        dropper.when = contacts_of(feeder, self.names, self.ends.pieces)
        dropper.solder(feeder, self.names.whole(feeder.rail))
        drops = list(self.layout.drops)
        drops[first : last + 1] = dropper.drops
        self.layout = self.layout._replace(drops=drops)

    def _segment(self, old: Segment, new: Segment) -> bool:
        """Another length, or rail of another size, of track that is not cut between its ends; what is soldered in its
        midst is then soldered elsewhere."""
        from copy import copy

        piece = self.layout.pieces.get(self.names.whole(old.name))
        is_long = not SHORTEST <= new.length <= LONGEST
        if not piece or piece.statement is not old or piece.work or is_long or tuple(old[1:4]) != tuple(new[1:4]):
            return False
        try:
            made = Piece(piece.name, new, self.templates(new, (), ()))
        except Impossible:
            return False
        self.ends = copy(self.ends)
        self.ends.pieces = self.layout.pieces | {piece.name: made}
        self.layout = self.layout._replace(pieces=self.ends.pieces)
        for feeder in {
            id(one.statement): one.statement for one in self.layout.drops if one.piece == piece.name
        }.values():
            places = self._places(feeder)
            self._solder(feeder, places[0], places[-1])
        return True

    def _places(self, feeder: Feeder) -> list[int]:
        """Which drops are those of a feeder."""
        return [place for place, drop in enumerate(self.layout.drops) if drop.statement is feeder]

    def _run(self, old: Bus, new: Bus) -> bool:
        if (old.supply, old.terminal) != (new.supply, new.terminal):
            return False
        runs = self.layout.runs
        turned = new.crossed is not None
        runs = [run._replace(crossed=turned, statement=new) if run.statement is old else run for run in runs]
        self.layout = self.layout._replace(runs=runs)
        return True

    def _contacts(self, old: Contacts, new: Contacts) -> bool:
        feed = next((feed for feed in self.layout.frogs.values() if feed.statement is old), None)
        words = (new.through, new.diverging) if isinstance(new, FrogSwitched) else ()
        if feed is None or old.turnout != new.turnout or not all(map(self._is_known, words)):
            return False
        made = fed_by(new, self.ends.pieces[feed.piece], self.names, self.ends.pieces, self.power)
        frogs = self.layout.frogs | {feed.name: made._replace(name=feed.name, frogs=feed.frogs)}
        self.layout = self.layout._replace(frogs=frogs)
        return True
