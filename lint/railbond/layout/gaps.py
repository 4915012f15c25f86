"""The gaps at ends and joints: which rail a `gap` statement cuts, looking out of the meeting's first end.

Left and right are read along the arrow of the segment at the joint. Looking out of a segment's finish is
looking along its arrow, looking out of its start is looking against it; and the left rail of one end, looking
out, meets the right rail of the other.
"""

from __future__ import annotations

from collections.abc import Iterable
from itertools import chain

from trackplan.statements import Gap

from .cuts import RAILS, cut_twice
from .ends import EndMark
from .model import EndAt, Meeting
from .names import Names, listed
from .symbols import SymbolTable
from .template import OTHER_SIDE, End, Side
from .track import Track

NOWHERE = EndAt("", "")


def cut_joints(symbols: SymbolTable, names: Names, track: Track) -> None:
    """Puts every gap that is not within a segment on its meeting."""
    cutter = JointCutter(names, track)
    for gap in symbols.of(Gap):
        if gap.offset is None:
            cutter.cut(gap)


class JointCutter:
    """Finds the meeting that a gap cuts, and the rail."""

    def __init__(self, names: Names, track: Track) -> None:
        self.names = names
        self.track = track
        self.ends = track.ends

    def cut(self, gap: Gap) -> None:
        if found := self.found(gap):
            meeting, sides = found
            for side in sides:
                meeting.gaps.setdefault(side, gap)

    def found(self, gap: Gap) -> tuple[Meeting, tuple[Side, ...]] | None:
        """The meeting that a gap cuts, and the sides, looking out of its first end."""
        place = self._place(gap)
        if not place:
            return None
        meeting, named = place
        if any(self.ends.pieces[end.piece].template.bridge for end in (meeting.one, meeting.other)):
            self._at_pit(gap)
            return None
        sides = self._sides(gap, meeting, named)
        held = next((meeting.gaps[side] for side in sides if side in meeting.gaps), None)
        if held:
            cut_twice(gap, held, self.names)
        return meeting, sides

    def _place(self, gap: Gap) -> tuple[Meeting, EndAt | None] | None:
        """The meeting that is cut, and the end by which the gap names it (None: by the joint's name)."""
        target = self.ends.target(gap, gap.place, f", or `gap {gap.place} at 20 cm {gap.rail}` within it")
        if isinstance(target, EndAt):
            return self._at_end(gap, target)
        if target and target.kind == "endplate":
            edge = self.track.edges.get(target.name)
            return self._at_end(gap, edge) if edge else None
        return self._at_joint(gap, target.name) if target else None

    def _at_end(self, gap: Gap, end: EndAt) -> tuple[Meeting, EndAt] | None:
        if meeting := self.track.at_end.get(end):
            return meeting, end
        held = self.track.met.get(end)
        if held and isinstance(held[0], EndMark):
            self._no_rail_beyond(gap, end, held[0])
        return None

    def _no_rail_beyond(self, gap: Gap, end: EndAt, mark: EndMark) -> None:
        message = f"the track stops at `{self._typed(end)}`: there is no rail beyond to cut it from"
        if mark.kind == "endplate":
            edge = f"the rails end here at the module's edge, `{self.names.typed(mark.name)}`"
            message = f"{edge}: cut them beside it, as in `gap {self.names.typed(end.piece)} at 2 cm {gap.rail}`"
        self.names.fault("impossible", gap, gap.place, message)

    def _at_pit(self, gap: Gap) -> None:
        from trackplan.amend import set_statement

        message = f"the pit parts the bridge from `{gap.place}` as it is: there is no joint to gap"
        edits = (set_statement(gap, ""),)
        self.names.fault("impossible", gap, gap.place, message, "take this line out", edits)

    def _at_joint(self, gap: Gap, name: str) -> tuple[Meeting, None] | None:
        if name not in self.track.joints and name not in self.track.waiting:
            pool = chain(self.track.joints, self.ends.named)
            name = self.names.unknown(gap, gap.place, name, "joint, end or segment", pool) or ""
        meeting = self.track.joints.get(name) or self.track.at_end.get(self.ends.named.get(name, NOWHERE))
        return (meeting, None) if meeting else None

    def _sides(self, gap: Gap, meeting: Meeting, named: EndAt | None) -> tuple[Side, ...]:
        """The sides that are cut, looking out of `meeting.one`."""
        if gap.rail == "both rails":
            return RAILS[gap.rail]
        along = RAILS.get(gap.rail)
        seen = self._arrow(gap, meeting, named) if along else self._frog(gap, meeting, named)
        if not seen:
            return ()
        side = self._looking_out(seen, gap.rail)
        return (side if seen == meeting.one else OTHER_SIDE[side],)

    def _looking_out(self, at: EndAt, rail: str) -> Side:
        """The side of a rail, looking out of the end of the piece by which it is read."""
        end = self._end(at)
        if rail in end.rails:
            return end.rails[rail]
        side = RAILS[rail][0]
        return side if end.leaves else OTHER_SIDE[side]

    def _arrow(self, gap: Gap, meeting: Meeting, named: EndAt | None) -> EndAt | None:
        """The segment's end along whose arrow left and right are read; a fault where there is no such one."""
        pair = (meeting.one, meeting.other)
        segments = [end for end in pair if self.ends.pieces[end.piece].template.length]
        if named in segments:
            return named
        if not segments:
            known = dict.fromkeys(word for end in pair for word in self._end(end).rails)
            why = "no segment lies at this joint, so no arrow tells left from right"
            return self._refuse(gap, f"{why}: expected {listed(('both rails', *known), 'or')}")
        if len(segments) == 2 and self._end(segments[0]).leaves == self._end(segments[1]).leaves:
            forms = self._either(gap, pair)
            return self._refuse(gap, f"two arrows meet head on at `{gap.place}`: expected {forms}")
        return segments[0]

    def _frog(self, gap: Gap, meeting: Meeting, named: EndAt | None) -> EndAt | None:
        """The end whose frog or stock rail is meant."""
        having = [end for end in (meeting.one, meeting.other) if gap.rail in self._end(end).rails]
        if named in having:
            return named
        if not having:
            expected = "expected `left rail`, `right rail` or `both rails`"
            return self._refuse(gap, f"no turnout's frog lies at `{gap.place}`, so no {gap.rail}: {expected}")
        if len(having) == 2:
            forms = self._either(gap, having)
            return self._refuse(gap, f"two turnouts meet here, each with a {gap.rail}: expected {forms}")
        return having[0]

    def _either(self, gap: Gap, ends: Iterable[EndAt]) -> str:
        return listed((f"gap {self._typed(end)} {gap.rail}" for end in ends), "or")

    def _refuse(self, gap: Gap, message: str) -> EndAt | None:
        self.names.fault("impossible", gap, gap.rail, message, name=gap.place)
        return None

    def _end(self, at: EndAt) -> End:
        return self.ends.pieces[at.piece].template.ends[at.end]

    def _typed(self, end: EndAt) -> str:
        return self.names.typed(str(end))
