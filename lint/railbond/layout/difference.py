"""The layout of a plan of which only wires, or lengths of track, differ from one whose layout is known.

Most of what is tried on a plan in the head is a wire turned round, moved or taken from elsewhere, or another number.
Track, joints and supplies are then as they were, and so is every other wire.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import compress
from operator import is_not

from trackplan.span import Span
from trackplan.statements import Bus, Feeder, FrogFromStockRails, FrogSwitched, Gap, Segment, Statement

from .additions import added, is_supplied, widened
from .desk import Desk
from .doubts import is_long_for_a_drop
from .exchange import are_of_feeders, exchanged, with_exchange
from .frogs import fed_by
from .model import Fault, Layout
from .redraft import Redraft
from .remaking import bare, lengthened

MOST_CHANGED = 30
"""Statements that differ, beyond which a layout is made anew: where one is taken out, all behind it differ."""

Contacts = FrogSwitched | FrogFromStockRails
Changing = Feeder | Bus | Contacts | Segment


def rewired(before: Layout, old: Sequence[Statement], new: Sequence[Statement]) -> Layout | None:
    """The layout of the `new` statements, where that `before` is of the `old` ones; None where more than wires, lengths
    and what can be added differs, or where a name is not known: what it may be taken for hangs on the whole plan."""
    if not isinstance(before.desk, Desk) or (before.desk.names.missing and before.faults):
        return None
    layout = _rewired(before, before.desk, old, new)
    return None if layout and layout.faults and before.desk.names.missing else layout


def _rewired(before: Layout, desk: Desk, old: Sequence[Statement], new: Sequence[Statement]) -> Layout | None:
    if exchange := exchanged(old, new):
        return with_exchange(before, desk, exchange, before.faults if are_of_feeders(before.faults, old) else None)
    if len(old) > len(new):
        return None
    differ = compress(zip(old, new, strict=False), map(is_not, old, new))
    changed = [(one, other) for one, other in differ if not _says(one, other)]
    more = new[len(old) :]
    if (more and not are_of_feeders(before.faults, old)) or len(changed) > MOST_CHANGED:
        return None
    if any(supply.kind == "plug" for supply in before.supplies.values()):  # what a module's wires call it is its name
        return None
    redraft = Redraft(before, desk)
    wires = _Wires(redraft)
    if any(one.at.start == one.at.end or one.at != other.at for one, other in changed):
        return None  # several that are added may be at one place
    if not all(added(redraft, one) for one in more) or not all(wires.change(*both) for both in changed):
        return None
    segments = {id(one) for one, _ in changed if isinstance(one, Segment)}
    if segments and not are_of_feeders(before.faults, old):
        return None  # a cut may find its place in what is longer now
    drops = before.drops if segments else ()
    soldered = (one.statement.at for one in drops if id(before.pieces[one.piece].statement) in segments)
    new_faults = redraft.names.faults
    faults = None if more and new_faults else _with_own(before.faults, changed, new_faults, soldered)
    return None if faults is None else redraft.done(faults)


def silenced(layout: Layout, words: Iterable[str]) -> Layout | None:
    """A layout of a plan that couples nothing as it is where nothing is told of names among the words of lines that
    could not be read; None where anything is wrong with it, which these may keep from being told."""
    if layout.faults or not isinstance(layout.desk, Desk):
        return None
    redraft = Redraft(layout, layout.desk)
    redraft.names.missing = set(map(redraft.names.whole, words))
    return redraft.done([])


def _says(one: Statement, other: Statement) -> bool:
    """Whether a statement that was added is there again, read anew."""
    return one.at.start == one.at.end and type(one) is type(other) and one == other


def is_near(old: Sequence[Statement], new: Sequence[Statement]) -> bool:
    """Whether statements may differ from others in nothing but wires and lengths, and feeders that came or went: by
    their kinds."""
    if exchanged(old, new):
        return True
    changed = ((one, other) for one, other in zip(old, new, strict=False) if one is not other)
    return len(old) == len(new) and all(isinstance(one, Changing) and one.at == other.at for one, other in changed)


def _with_own(
    faults: list[Fault], changed: Sequence[tuple[Statement, Statement]], new: list[Fault], soldered: Iterable[Span]
) -> list[Fault] | None:
    """The faults of the layout, in the place of those of a wire that was changed, or of those `soldered` to a length
    that was, what is wrong with them now; None where that cannot be told."""
    if not faults and (len(changed) == 1 or not new):  # those of one line come in the order in which they are told
        return new if all(fault.rule == "impossible" for fault in new) else None
    lines = [*(one.at for one, _ in changed), *soldered]
    own = [place for place, fault in enumerate(faults) if any(line.holds(fault.at) for line in lines)]
    is_of_wires = all(isinstance(one, Feeder | Segment) for one, _ in changed) and (len(changed) == 1 or not new)
    if not is_of_wires or any(fault.rule != "impossible" for fault in (*new, *map(faults.__getitem__, own))):
        return None
    if new and {fault.at for fault in new}.difference(faults[place].at for place in own):
        return None
    if new and own[-1] - own[0] >= len(own):  # of what comes between nobody knows the place
        return None
    left = [fault for place, fault in enumerate(faults) if place not in own]
    return left[: own[0]] + new + left[own[0] :] if own else left


def has_same_metal(before: Layout, after: Layout) -> bool:
    """Whether a layout that was told from another one has its metals, however long these are."""
    if not isinstance(before.desk, Desk) or not before.desk.has_same_track(after.desk):
        return False
    if before.pieces is after.pieces:
        return True
    pairs = zip(before.pieces.values(), after.pieces.values(), strict=True)
    return all(one is other or bare(one.template) == bare(other.template) for one, other in pairs)


class _Wires:
    """Changes wires and lengths of a layout one by one."""

    def __init__(self, redraft: Redraft) -> None:
        self.redraft = redraft

    @property
    def layout(self) -> Layout:
        return self.redraft.layout

    def change(self, old: Statement, new: Statement) -> bool:
        """Whether it is a wire that can be changed by itself."""
        if isinstance(old, Feeder) and isinstance(new, Feeder):
            return self._feeder(old, new)
        if isinstance(old, Bus) and isinstance(new, Bus):
            return self._run(old, new)
        if isinstance(old, Contacts) and isinstance(new, Contacts):
            return self._contacts(old, new)
        if isinstance(old, Gap) and isinstance(new, Gap):
            return widened(self.redraft, old, new)
        if isinstance(old, Segment) and isinstance(new, Segment):
            return lengthened(self.redraft, old, new)
        return False

    def _feeder(self, old: Feeder, new: Feeder) -> bool:
        is_fit = is_supplied(self.redraft, new.supply) and not is_long_for_a_drop(new)
        return is_fit and self.redraft.solder_again(old, new)

    def _run(self, old: Bus, new: Bus) -> bool:
        if old.terminal != new.terminal or (old.supply != new.supply and not self._is_as_good(old, new)):
            return False
        source, turned = self.redraft.names.whole(new.supply), new.crossed is not None
        self.redraft.power.runs = [
            run._replace(source=source, crossed=turned, statement=new) if run.statement is old else run
            for run in self.layout.runs
        ]
        self.redraft.layout = self.redraft.layout._replace(runs=self.redraft.power.runs)
        return True

    def _is_as_good(self, old: Bus, new: Bus) -> bool:
        """Whether a run goes from one supply to another, and all of them call their wires the same: then no terminal
        has other ones, and none has lost its supply."""
        supplies, whole = self.layout.supplies, self.redraft.names.whole
        is_same = len({supply.legs for supply in supplies.values()}) == 1
        return is_same and whole(old.supply) in supplies and whole(new.supply) in supplies

    def _contacts(self, old: Contacts, new: Contacts) -> bool:
        feed = next((feed for feed in self.layout.frogs.values() if feed.statement is old), None)
        words = (new.through, new.diverging) if isinstance(new, FrogSwitched) else ()
        if feed is None or old.turnout != new.turnout or not all(is_supplied(self.redraft, word) for word in words):
            return False
        redraft = self.redraft
        made = fed_by(new, redraft.ends.pieces[feed.piece], redraft.names, redraft.ends.pieces, redraft.power)
        redraft.layout = redraft.layout._replace(
            frogs=self.layout.frogs | {feed.name: made._replace(name=feed.name, frogs=feed.frogs)}
        )
        return True
