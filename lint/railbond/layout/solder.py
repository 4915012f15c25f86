"""What the plan says of rails as conductors: the joints that are soldered, and the rail of every piece."""

from __future__ import annotations

from railbond.findings import Step
from trackplan.statements import Rails, Solder, where

from .ends import EndMark
from .model import EndAt, Meeting
from .names import Names
from .symbols import SymbolTable
from .track import Track


def soldered_joints(symbols: SymbolTable, names: Names, track: Track) -> dict[EndAt, Solder]:
    """The first end of every meeting whose joiners are soldered, with the statement that says so."""
    found: dict[EndAt, Solder] = {}
    for solder in symbols.of(Solder):
        meeting = _meeting(solder, names, track)
        if meeting and len(meeting.gaps) == 2:
            _tell_cut(solder, meeting, names)
        elif meeting:
            found.setdefault(meeting.one, solder)
    return found


def _tell_cut(solder: Solder, meeting: Meeting, names: Names) -> None:
    from trackplan.amend import set_statement

    why = tuple(Step(where(gap), "it is cut here") for gap in dict.fromkeys(meeting.gaps.values()))
    message = f"both rails are cut at `{solder.place}`: there is no joiner to solder"
    edits = (set_statement(solder, ""),)
    names.fault("impossible", solder, solder.place, message, "take this line out", edits, why)


def _meeting(solder: Solder, names: Names, track: Track) -> Meeting | None:
    """The meeting at an end or a joint's name; a fault where nothing is joined there."""
    target = track.ends.target(solder, solder.place)
    if isinstance(target, EndMark) and target.kind == "joint":
        return _at_joint(solder, target.name, names, track)
    meeting = track.at_end.get(target) if isinstance(target, EndAt) else None
    if target and not meeting:
        _tell_nothing_joined(solder, names, str(target))
    return meeting


def _at_joint(solder: Solder, name: str, names: Names, track: Track) -> Meeting | None:
    if name not in track.joints and name not in track.waiting:
        pool = (*track.joints, *track.ends.named)
        name = names.unknown(solder, solder.place, name, "joint or end", pool) or ""
    return track.joints.get(name)


def _tell_nothing_joined(solder: Solder, names: Names, whole: str) -> None:
    if not names.silent(whole):
        message = f"no other rail is joined at `{solder.place}`: expected an end or joint where two pieces meet"
        names.fault("impossible", solder, solder.place, message)


def usual_rail(symbols: SymbolTable, names: Names) -> Rails | None:
    """The rail of every piece that does not say its own; a second statement is told."""
    rails = symbols.of(Rails)
    for other in rails[1:]:
        why = (Step(where(rails[0]), "the plan's rail is told here"),)
        message = "the plan's rail is told already: expected `code` at the segments that have another"
        names.fault("impossible", other, None, message, "take one of the two lines out", why=why)
    return rails[0] if rails else None
