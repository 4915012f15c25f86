"""Endplates that meet: the edges of modules, or two of one plan's own.

An edge with several tracks has an endplate for each, `E-1`, `E-2` and so on, numbered from the left, looking out. Its
whole is called `E`, and coupled as one: the first track of the one edge meets the last one of the other.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping

from railbond.findings import Step
from trackplan.amend import set_word
from trackplan.edit import Edit
from trackplan.span import Word
from trackplan.statements import Couple, where

from .model import EndAt, Fault, Meeting
from .names import listed

Near = Callable[[str, Iterable[str]], str | None]


class Couplings:
    """Couples edges, by their whole names. `edges` are the ends that reach them; `whole` makes a word a whole name."""

    def __init__(self, edges: Mapping[str, EndAt | None], whole: Callable[[str], str], near: Near) -> None:
        self.edges, self.whole, self.near = edges, whole, near
        self.taken: dict[str, Couple] = {}
        self.meetings: list[Meeting] = []
        self.faults: list[Fault] = []

    def couple(self, couple: Couple) -> None:
        """Joins all tracks of two edges, or tells why they cannot be."""
        pair = [self._tracks(couple, word) for word in (couple.one, couple.other)]
        if not all(pair) or self._told_twice(couple, [name for tracks in pair for name in tracks]):
            return
        one, other = pair
        if len(one) != len(other):
            message = f"{_counted(couple.one, one)} and {_counted(couple.other, other)}: they do not fit together"
            self._tell("impossible", couple, couple.other, message)
        for near, far in zip(one, reversed(other), strict=False):
            ends = self.edges[near], self.edges[far]
            if ends[0] and ends[1]:
                self.meetings.append(Meeting(ends[0], ends[1], where(couple), "", {}))

    def _tracks(self, couple: Couple, word: Word) -> list[str]:
        """The edges that a word stands for: itself, or its tracks from the left, looking out."""
        whole = self.whole(word)
        if whole in self.edges:
            return [whole]
        stem = f"{whole}-"
        tracks = [name for name in self.edges if name.startswith(stem) and name[len(stem) :].isdigit()]
        if not tracks:
            self._unknown(couple, word, self.near(whole, self.edges), whole.removesuffix(str(word)))
        return sorted(tracks, key=lambda name: int(name[len(stem) :]))

    def _unknown(self, couple: Couple, word: Word, near: str | None, prefix: str) -> None:
        """Tells an edge that there is none of, with the one whose name is nearly the same."""
        message, meant = f"no endplate is called `{word}`", near and near.removeprefix(prefix)
        if not meant:
            self._tell("unknown-name", couple, word, message)
            return
        edits = (set_word(couple, word, meant),)
        self._tell(
            "unknown-name", couple, word, f"{message}; did you mean `{meant}`?", (), edits, f"write `{meant}` here"
        )

    def _told_twice(self, couple: Couple, names: list[str]) -> bool:
        """Whether an edge is coupled already, or with itself."""
        for name in names:
            if name in self.taken or names.count(name) > 1:
                first = self.taken.get(name)
                why = (Step(where(first), f"here `{name}` is coupled with another edge"),) if first else ()
                message = f"`{name}` is coupled already" if first else f"`{name}` cannot be coupled with itself"
                self._tell("coupled-twice", couple, couple.one, f"{message}: one edge meets one other", why)
                return True
        self.taken |= dict.fromkeys(names, couple)
        return False

    def _tell(
        self,
        rule: str,
        couple: Couple,
        word: Word,
        message: str,
        why: tuple[Step, ...] = (),
        edits: tuple[Edit, ...] = (),
        mend: str = "",
    ) -> None:
        names = tuple(dict.fromkeys((str(couple.one), str(couple.other))))
        self.faults.append(Fault(rule, where(couple, word), message, names, mend, edits, why))


def _counted(word: Word, tracks: list[str]) -> str:
    return f"`{word}` has {len(tracks)} track{'s' if len(tracks) > 1 else ''} ({listed(tracks)})"
