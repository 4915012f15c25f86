"""Whether any section of turning track could hold a train, told by trying all: exact for small track.

A section is connected track that does not turn back on itself, is not all of it, and takes something out of what turns;
it may end at any joint or anywhere within plain track. Every such set of parts is looked at, each segment as two halves
that may be parted, and the longest way that can be driven within it is compared with the train. That is a bound from
above: what it leaves out cannot hold the train.
"""

from __future__ import annotations

from collections.abc import Iterator

from railbond.circuit.effort import spend
from railbond.circuit.facts import Facts
from railbond.circuit.keeping import once
from railbond.circuit.signed_graph import Part
from trackplan.record import NamedTuple

from .section import is_plain, part_length
from .sections import longest_train

BUDGET = 2_000
"""Sets of parts that are looked at: all of a wye, or of a balloon with a passing track."""

A_SET = 3.0
"""Steps of effort that one takes."""

Half = tuple[Part, int]


class HalfTie(NamedTuple):
    """Two halves that meet, whether left becomes right there, and the ends of their pieces at which they do."""

    one: Half
    other: Half
    turns: bool
    ends: tuple[str, str]


@once
def holds_nowhere(facts: Facts) -> bool:
    """Whether no section of the track that turns can hold the longest train: proven, by trying all of them. Where those
    are too many it is not known, and False."""
    track, meters, left = _Track(facts), longest_train(facts), BUDGET
    for halves in track.connected():
        left -= 1
        spend(A_SET)
        if left < 0 or track.may_hold(halves, meters):
            return False
    return True


class _Track:
    def __init__(self, facts: Facts) -> None:
        self.facts = facts
        self.ties = list(_ties(facts))
        self.at: dict[Half, list[HalfTie]] = {}
        for tie in self.ties:
            for half in (tie.one, tie.other):
                self.at.setdefault(half, []).append(tie)
        self.turning = self._turning()
        self.halves = sorted(self._around(self.turning))

    def _turning(self) -> set[Half]:
        """The halves that lie in doubly connected track with an odd cycle."""
        import networkx as nx

        graph = nx.Graph()
        for tie in self.ties:
            nx.add_path(graph, [tie.one, (tie, 0), (tie, 1), tie.other])
        blocks = (set(nodes) for nodes in nx.biconnected_components(graph))
        return {half for nodes in blocks if self._is_odd(nodes & self.at.keys()) for half in nodes & self.at.keys()}

    def _around(self, halves: set[Half]) -> set[Half]:
        """All that hangs together with some halves."""
        queue, seen = list(halves), set(halves)
        for here in queue:
            new = {half for tie in self.at[here] for half in (tie.one, tie.other)} - seen
            seen |= new
            queue += new
        return seen

    def connected(self) -> Iterator[frozenset[Half]]:
        """Every connected set of halves once."""
        for number, first in enumerate(self.halves):
            barred = frozenset(self.halves[:number])
            yield from self._grown(frozenset({first}), barred)

    def _grown(self, own: frozenset[Half], barred: frozenset[Half]) -> Iterator[frozenset[Half]]:
        yield own
        around = {half for one in own for tie in self.at[one] for half in (tie.one, tie.other)} - own - barred
        for half in sorted(around):
            yield from self._grown(own | {half}, barred)
            barred |= {half}

    def may_hold(self, halves: frozenset[Half], meters: float) -> bool:
        total = sum(part_length(self.facts, part) for part in {part for part, _ in halves})
        if total < meters or len(halves) == len(self.halves) or self.turning.isdisjoint(halves):
            return False
        return not self._is_odd(set(halves)) and any(self._runs(half, halves, meters) for half in halves)

    def _is_odd(self, among: set[Half]) -> bool:
        """Whether the track of some halves turns back on itself."""
        sides: dict[Half, bool] = {}
        for root in among:
            queue = [] if root in sides else [root]
            sides.setdefault(root, False)
            for here in queue:
                for tie in self.at[here]:
                    there = tie.other if tie.one == here else tie.one
                    if there in among and there not in sides:
                        sides[there] = sides[here] != tie.turns
                        queue.append(there)
        inside = (tie for tie in self.ties if tie.one in among and tie.other in among)
        return any((sides[tie.one] != sides[tie.other]) != tie.turns for tie in inside)

    def _runs(self, start: Half, halves: frozenset[Half], meters: float) -> bool:
        """Whether a train so long may stand on a way from some half on, all of it within a set."""
        ways = [(start, "", frozenset({start}))]
        while ways:
            here, entered, passed = ways.pop()
            if sum(part_length(self.facts, part) for part in {part for part, _ in passed}) >= meters:
                return True
            for tie in self.at[here]:
                there, (left_by, comes_in) = (tie.other, tie.ends) if tie.one == here else (tie.one, tie.ends[::-1])
                drives = not entered or self._drives(here, entered, left_by)
                if there in halves and there not in passed and drives:
                    ways.append((there, comes_in, passed | {there}))
        return False

    def _drives(self, here: Half, entered: str, left_by: str) -> bool:
        """Whether wheels roll from one end of a piece to another: of points not from leg to leg."""
        ends = self.facts.layout.pieces[here[0][0]].template.ends
        return len(ends) != 3 or "points" not in ends or "points" in (entered, left_by)


def _ties(facts: Facts) -> Iterator[HalfTie]:
    for part in facts.turning.forest.signs:
        if is_plain(facts, part):
            yield HalfTie((part, 0), (part, 1), False, ("", ""))
    seams = {id(one): one for ties in facts.turning.forest.ties.values() for one in ties}
    for seam in seams.values():
        ends, leaves = ("", ""), (True, False)
        if seam.meeting is not None:
            ends = seam.meeting.one.end, seam.meeting.other.end
            leaves = facts.wiring.end(seam.meeting.one).leaves, facts.wiring.end(seam.meeting.other).leaves
        one, other = (
            (part, int(far and is_plain(facts, part))) for part, far in zip((seam.one, seam.other), leaves, strict=True)
        )
        yield HalfTie(one, other, seam.turns, ends)
