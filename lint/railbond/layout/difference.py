"""The layout of a plan of which only wires differ from one whose layout is known.

Most of what is tried on a plan in the head is a wire turned round, moved or taken from elsewhere. Track, joints and
supplies are then as they were, and so is every other wire.
"""

from __future__ import annotations

from collections.abc import Sequence

from trackplan.record import NamedTuple
from trackplan.statements import Bus, Feeder, FrogFromStockRails, FrogSwitched, Statement

from .contacts import contacts_of
from .doubts import is_long_for_a_drop
from .drops import Dropper
from .ends import Ends
from .frogs import fed_by
from .model import Layout
from .names import Names
from .terminals import Terminals

Contacts = FrogSwitched | FrogFromStockRails


class Desk(NamedTuple):
    """What a layout was built with."""

    names: Names
    ends: Ends
    power: Terminals


def rewired(before: Layout, old: Sequence[Statement], new: Sequence[Statement]) -> Layout | None:
    """The layout of the `new` statements, where that `before` is of the `old` ones; None where more than wires differs,
    or where a name is not known: what it may be taken for hangs on the whole plan."""
    changed = [(one, other) for one, other in zip(old, new, strict=False) if one is not other]
    if len(old) != len(new) or before.faults or not isinstance(before.desk, Desk) or before.desk.names.missing:
        return None
    if any(supply.kind == "plug" for supply in before.supplies.values()):  # what a module's wires call it is its name
        return None
    wires = _Wires(before, before.desk)
    for one, other in changed:
        if one.at.start == one.at.end or not wires.change(one, other):  # several that are added may be at one place
            return None
    return None if wires.names.faults else wires.layout


class _Wires:
    """Changes wires of a layout one by one. Names are looked up in a copy: a fault told is none of the layout's."""

    def __init__(self, layout: Layout, desk: Desk) -> None:
        from copy import copy

        self.layout, self.ends = layout, desk.ends
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
        return False

    def _is_known(self, word: str) -> bool:
        name = self.names.whole(word)
        return name in self.power.legs or name.rpartition(".")[0] in self.power.legs

    def _feeder(self, old: Feeder, new: Feeder) -> bool:
        places = [place for place, drop in enumerate(self.layout.drops) if drop.statement is old]
        if not places or not self._is_known(new.supply) or is_long_for_a_drop(new):
            return False
        dropper = Dropper(self.names, self.ends, self.power)
        dropper.when = contacts_of(new, self.names, self.ends.pieces)
        dropper.solder(new, self.names.whole(new.rail))
        drops = list(self.layout.drops)
        drops[places[0] : places[-1] + 1] = dropper.drops
        self.layout = self.layout._replace(drops=drops)
        return True

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
