"""Endplates that meet: the edges of modules, or two of one plan's own.

An edge with several tracks has an endplate for each, `E-1`, `E-2` and so on, numbered from the left, looking out. Its
whole is called `E`, and coupled as one: the first track of the one edge meets the last one of the other.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable, Mapping

from railbond.findings import Step
from trackplan.span import Word
from trackplan.statements import Couple, where
from trackplan.typed import TYPE_CHECKING

from .model import EndAt, Fault, Meeting
from .names import listed

if TYPE_CHECKING:
    from trackplan.edit import Edit

ALIKE = 0.8
"""How alike the names of two edges are, of which one may have been meant by the other."""

Near = Callable[[str, Iterable[str]], str | None]


def tracks_of(edges: Collection[str], edge: str) -> list[str]:
    """The endplates of an edge by its whole name: itself, or those of its tracks from the left, looking out."""
    if edge in edges:
        return [edge]
    stem = f"{edge}-"
    tracks = [name for name in edges if name.startswith(stem) and name[len(stem) :].isdigit()]
    return sorted(tracks, key=lambda name: int(name[len(stem) :]))


def edge_of(endplate: str) -> str:
    """The edge that an endplate is a track of."""
    edge, _, track = endplate.rpartition("-")
    return edge if track.isdigit() else endplate


class Couplings:
    """Couples edges, by their whole names. `edges` are the ends that reach them; `whole` makes a word a whole name."""

    def __init__(self, edges: Mapping[str, EndAt | None], whole: Callable[[str], str], near: Near) -> None:
        self.edges, self.whole, self.near = edges, whole, near
        self.taken: dict[str, Couple] = {}
        self.named: set[str] = set()
        self.meetings: list[Meeting] = []
        self.wrong: list[tuple[Fault, Couple, Word]] = []

    def couple(self, couple: Couple) -> None:
        """Joins all tracks of two edges, or tells why they cannot be."""
        self.named |= {self.whole(couple.one), self.whole(couple.other)}
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

    @property
    def faults(self) -> list[Fault]:
        """What is wrong with the couplings, once all are known: an edge that is named by mistake may be the one that no
        line names."""
        return [self._with_the_edge_left(*one) for one in self.wrong]

    def _with_the_edge_left(self, fault: Fault, couple: Couple, word: Word) -> Fault:
        meant = "" if fault.edits or fault.rule == "impossible" else self._left_over(couple, self.whole(word))
        if not meant:
            return fault
        from trackplan.amend import set_word

        meant = meant.removeprefix(self.whole(word).removesuffix(str(word)))
        return fault._replace(mend=f"write `{meant}` here", edits=(set_word(couple, word, meant),))

    def _left_over(self, couple: Couple, whole: str) -> str:
        """The one edge that nothing is said to meet, of the same module where that has one; of several one of the
        module that the line before led to, for a row is written from end to end, or that which is called nearly so."""
        from difflib import get_close_matches

        free = [one for one in self.edges if one not in self.named]
        own = [one for one in free if _module(one) == _module(whole)]
        found = own or [one for one in free if _module(one) == self._module_before(couple)] or free
        return found[0] if len(found) == 1 else next(iter(get_close_matches(whole, found, 1, ALIKE)), "")

    def _module_before(self, couple: Couple) -> str:
        """The module that the coupling told just before leads to."""
        before = [one for one in self.taken.values() if one.at.path == couple.at.path and one.at < couple.at]
        return _module(self.whole(before[-1].other)) if before else ""

    def _tracks(self, couple: Couple, word: Word) -> list[str]:
        """The edges that a word stands for: itself, or its tracks from the left, looking out."""
        whole = self.whole(word)
        if not (tracks := tracks_of(self.edges, whole)):
            self._unknown(couple, word, self.near(whole, self.edges), whole.removesuffix(str(word)))
        return tracks

    def _unknown(self, couple: Couple, word: Word, near: str | None, prefix: str) -> None:
        """Tells an edge that there is none of, with the one whose name is nearly the same."""
        message, meant = f"no endplate is called `{word}`", near and near.removeprefix(prefix)
        if not meant:
            self._tell("unknown-name", couple, word, message)
            return
        from trackplan.amend import set_word

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
                word = couple.other if name in tracks_of(self.edges, self.whole(couple.other)) else couple.one
                self._tell("coupled-twice", couple, word, f"{message}: one edge meets one other", why)
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
        self.wrong.append((Fault(rule, where(couple, word), message, names, mend, edits, why), couple, word))


def _counted(word: Word, tracks: list[str]) -> str:
    return f"`{word}` has {len(tracks)} track{'s' if len(tracks) > 1 else ''} ({listed(tracks)})"


def _module(whole: str) -> str:
    """The module of an edge, by its whole name."""
    return whole.rpartition(".")[0]
