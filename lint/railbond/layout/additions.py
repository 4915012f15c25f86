"""Lines that are added to a plan whose layout is known: the gaps, bonds, reversers and feeders that mends are made of.

Each comes behind all others of its kind, as if it were the plan's last line.
"""

from __future__ import annotations

from trackplan.statements import Bus, ClosureBond, Cut, Feeder, Gap, Reverser, Statement

from .accepted import acceptable
from .doubts import is_long_for_a_drop
from .gaps import JointCutter
from .model import Meeting
from .redraft import Redraft
from .remaking import cut_within, worked_on
from .supplies import behind


def added(redraft: Redraft, statement: Statement) -> bool:
    """Whether it is a line that can be added by itself; what is wrong with it is told then."""
    if isinstance(statement, Gap):
        return _gap(redraft, statement) if statement.offset is None else cut_within(redraft, statement)
    if isinstance(statement, ClosureBond | Cut):
        return worked_on(redraft, statement)
    if isinstance(statement, Reverser):
        return _reverser(redraft, statement)
    return isinstance(statement, Feeder) and _feeder(redraft, statement)


def is_supplied(redraft: Redraft, word: str) -> bool:
    """Whether a word names a supply or terminal, or a leg of one."""
    name = redraft.names.whole(word)
    return name in redraft.power.legs or name.rpartition(".")[0] in redraft.power.legs


def _gap(redraft: Redraft, gap: Gap) -> bool:
    """A cut at a joint whose joiners nobody solders."""
    found = JointCutter(redraft.names, redraft.track).found(gap)
    if found is None or found[0].one in redraft.layout.soldered:
        return False
    meeting, sides = found
    gaps = dict(meeting.gaps)
    for side in sides:
        gaps.setdefault(side, gap)
    _put(redraft, meeting, meeting._replace(gaps=gaps))
    return True


def widened(redraft: Redraft, old: Gap, new: Gap) -> bool:
    """Whether a gap at a joint that no other one cuts is one that cuts as much there, or more."""
    meeting = next((one for one in redraft.layout.meetings if old in one.gaps.values()), None)
    if meeting is None or new.offset is not None or any(one is not old for one in meeting.gaps.values()):
        return False
    _put(redraft, meeting, meeting._replace(gaps={}))
    cut = redraft.track.at_end.get(meeting.one) if _gap(redraft, new) else None
    return cut is not None and cut.gaps.keys() >= meeting.gaps.keys()


def _put(redraft: Redraft, old: Meeting, new: Meeting) -> None:
    """A meeting in the place of another of the same ends."""
    track = redraft.track
    track.meetings = [new if one is old else one for one in track.meetings]
    track.at_end = track.at_end | {new.one: new, new.other: new}
    track.joints = track.joints | ({new.name: new} if new.name else {})
    redraft.layout = redraft.layout._replace(meetings=track.meetings)


def _reverser(redraft: Redraft, statement: Reverser) -> bool:
    """A reverser whose name is free. Terminals get their names last."""
    names, power, name = redraft.names, redraft.power, redraft.names.whole(statement.name)
    if name in names.defined:
        return False
    terminals: dict[str, Statement] = {one: first for one, first in names.defined.items() if isinstance(first, Bus)}
    names.defined = {one: first for one, first in names.defined.items() if one not in terminals}
    names.defined |= {name: statement} | terminals
    supply = behind(name, statement, power.supplies, names)
    power.supplies = power.supplies | {name: supply}
    power.legs = power.legs | {name: supply.legs}
    redraft.layout = redraft.layout._replace(
        supplies=power.supplies, acceptable=acceptable(names, redraft.track, power)
    )
    return True


def _feeder(redraft: Redraft, feeder: Feeder) -> bool:
    if not is_supplied(redraft, feeder.supply) or is_long_for_a_drop(feeder):
        return False
    redraft.layout = redraft.layout._replace(drops=[*redraft.layout.drops, *redraft.soldered(feeder).drops])
    return True
