"""The meetings of the track: which end meets which, and where the track stops."""

from __future__ import annotations

from collections import defaultdict

from railbond.findings import Step
from trackplan.record import NamedTuple, new
from trackplan.span import Word
from trackplan.statements import Joint, Segment, Statement, where

from .ends import STOP, EndMark, Ends, Target
from .model import EndAt, Meeting
from .names import Names
from .symbols import SymbolTable


class Touch(NamedTuple):
    """An end, and the word of a statement that names the joint at which it meets another."""

    end: EndAt
    statement: Statement
    word: Word


class Track:
    """Who meets whom, glued one statement after the other.

    `met` holds what each end meets and the statement that says so, `at_end` its meeting; `joints` the
    meetings that have a free name; `waiting` all ends that name a free joint; `edges` who is at an endplate.
    """

    def __init__(self, names: Names, ends: Ends) -> None:
        self.names = names
        self.ends = ends
        self.meetings: list[Meeting] = []
        self.at_end: dict[EndAt, Meeting] = {}
        self.joints: dict[str, Meeting] = {}
        self.met: dict[EndAt, tuple[Target, Statement]] = {}
        self.edges: dict[str, EndAt] = {}
        self.waiting: defaultdict[str, dict[EndAt, Touch]] = defaultdict(dict)

    def lay(self, symbols: SymbolTable) -> None:
        """Glues all that the plan's segments and joints say."""
        for segment in symbols.of(Segment):
            name = self.names.whole(segment.name)
            if name in self.ends.pieces:
                for end, word in (("start", segment.start), ("finish", segment.finish)):
                    self._glue(self.ends.named[f"{name}.{end}"], self.ends.target(segment, word), segment, word)
        for joint in symbols.of(Joint):
            self._join(joint)
        for name, touches in self.waiting.items():
            self._meet_at(name, list(touches.values()))

    def meet(self, end: EndAt, target: Target, statement: Statement, word: Word, name: str = "") -> None:
        """Says that an end meets a target. What was said before counts once; another target is a fault."""
        if end == target:
            self._fault(statement, word, f"`{self._typed(end)}` cannot meet itself")
        elif self.met.get(end, (None,))[0] == target:
            return
        elif end in self.met:
            self._third(end, target, statement, word)
        elif target in self.met and isinstance(target, EndAt):
            self._third(target, end, statement, word)
        elif isinstance(target, EndMark):
            self._reach(end, target, statement, word)
        else:
            self.met[end], self.met[target] = (target, statement), (end, statement)
            self.record(new(Meeting, (end, target, statement.at, name, {})))

    def record(self, meeting: Meeting) -> None:
        """Keeps a meeting, to be found by its ends and its name."""
        self.meetings.append(meeting)
        self.at_end[meeting.one] = self.at_end[meeting.other] = meeting
        if meeting.name:
            self.joints[meeting.name] = meeting

    def _glue(self, end: EndAt, target: Target | None, statement: Statement, word: Word) -> None:
        if target is None:
            self.names.missing.add(str(end))
        elif isinstance(target, EndMark) and target.kind == "joint":
            self.waiting[target.name].setdefault(end, Touch(end, statement, word))
        else:
            self.meet(end, target, statement, word)

    def _join(self, joint: Joint) -> None:
        """A joint's two words, of which one at least must name a piece's end."""
        one, other = (self.ends.target(joint, word) for word in (joint.one, joint.other))
        if isinstance(one, EndAt):
            self._glue(one, other, joint, joint.other)
        elif isinstance(other, EndAt):
            self._glue(other, one, joint, joint.one)
        elif one and other:
            message = f"neither `{joint.one}` nor `{joint.other}` is the end of a piece, such as `T1.points`"
            self._fault(joint, joint.one, f"a joint joins two ends, and {message}")
            self.names.missing |= {one.name, other.name}

    def _reach(self, end: EndAt, mark: EndMark, statement: Statement, word: Word) -> None:
        """An end at a stop, or at an endplate, which one end only may reach."""
        first = self.edges.setdefault(mark.name, end) if mark.kind == "endplate" else end
        if first is not end:
            message = f"`{self._typed(first)}` already reaches the endplate `{word}`, which takes one track"
            self._fault(statement, word, message, self.met[first][1])
        self.met[end] = (mark, statement)

    def _meet_at(self, name: str, touches: list[Touch]) -> None:
        """Two ends meet at a free joint; any more are told."""
        if len(touches) < 2:
            return
        one, other, *more = touches
        self.meet(one.end, other.end, other.statement, other.word, name)
        for touch in more:
            pair = f"`{self._typed(one.end)}` and `{self._typed(other.end)}`"
            message = f"three ends cannot meet at one joint: {pair} meet at `{touch.word}` already"
            self._fault(touch.statement, touch.word, message, other.statement)
            self.names.missing.add(str(touch.end))

    def _third(self, taken: EndAt, left: Target, statement: Statement, word: Word) -> None:
        """Tells that an end meets something else already; what is left without it counts as spoken for."""
        if left not in self.met:
            self.names.missing.add(str(left))
        if self.names.silent(str(taken)):
            return
        held, first = self.met[taken]
        meets = "is already the end of track" if held == STOP else f"already meets `{self._typed(held)}`"
        message = f"three ends cannot meet at one joint: `{self._typed(taken)}` {meets}"
        self._fault(statement, word, message, first)

    def _fault(self, statement: Statement, word: Word, message: str, first: Statement | None = None) -> None:
        why = (Step(where(first), "this line says so"),) if first else ()
        mend = "where three tracks meet lies a turnout; else name the right end" if first else ""
        self.names.fault("impossible", statement, word, message, mend, why=why)

    def _typed(self, target: Target) -> str:
        return self.names.typed(str(target))
