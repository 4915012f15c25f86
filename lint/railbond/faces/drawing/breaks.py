"""Where along each rail of a piece one metal ends and the next begins, found from how its ways lie in the picture.

A frog lies where the two rails cross that run through it, and a blade begins where its rail parts from the one it
touches. Metals between two such places share the length between them.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Sequence
from typing import NamedTuple

from .course import Point
from .ways import RailWay, Way, crossings, parting

CLOSED, OPEN = 0.8, 5.0
"""How far a blade's tip lies from the rail beside it."""
FROG = 6.0
"""Half the length of a frog."""


class BrokenRail(NamedTuple):
    """Of one rail of a way: the shares of its length at which its metals begin and end, one more than there are
    metals; at which of them two rails part, and where a blade begins there that stands open; and how many metals at
    its beginning and its end are drawn with another rail."""

    at: list[float]
    open: dict[int, float]
    head: int
    tail: int


def broken(
    ways: Sequence[Way], rails: Sequence[RailWay], lines: Sequence[list[Point]], is_frog: Callable[[int], bool]
) -> list[BrokenRail]:
    """The breaks of every rail."""
    return [_Breaks(ways, rails, lines, is_frog, index).found() for index in range(len(rails))]


class _Breaks:
    def __init__(
        self,
        ways: Sequence[Way],
        rails: Sequence[RailWay],
        lines: Sequence[list[Point]],
        is_frog: Callable[[int], bool],
        index: int,
    ) -> None:
        self.ways, self.rails, self.lines, self.is_frog, self.index = ways, rails, lines, is_frog, index
        self.rail = rails[index]
        self.count = len(self.rail.chain)
        self.at: dict[int, float] = {0: 0.0, self.count: 1.0}
        self.open: dict[int, float] = {}

    def found(self) -> BrokenRail:
        half = FROG / self.ways[self.rail.way].course.length
        for place, share in self._anchors():
            self.at[place], self.at[place + 1] = share - half, share + half
        head = self._part(back=False)
        tail = self._part(back=True)
        return BrokenRail(self._between(), self.open, head, tail)

    def _anchors(self) -> list[tuple[int, float]]:
        """The frogs, and metal that another rail's crossing lies in, with the share of the length where they lie."""
        seen: defaultdict[int, list[float]] = defaultdict(list)
        bare: list[float] = []
        for index, other in enumerate(self.rails):
            if other.way != self.rail.way:
                for share in crossings(self.lines[self.index], self.lines[index]):
                    common = [metal for metal in self.rail.chain if metal is not None and metal in other.chain]
                    place = self._anchored(common)
                    if place is not None:
                        seen[place].append(share)
                    elif not common:
                        bare.append(share)
        plastic = [place for place, metal in enumerate(self.rail.chain) if metal is None]
        spread = _apart(sorted(bare))
        if len(spread) >= len(plastic):
            seen |= {place: [share] for place, share in zip(plastic, spread, strict=False)}
        return [(place, sum(shares) / len(shares)) for place, shares in seen.items()]

    def _anchored(self, common: list[int]) -> int | None:
        """Which of its metals lies at a crossing: the frog that both rails share, else metal of the other within it."""
        places = [self.rail.chain.index(metal) for metal in common]
        frogs = [place for place in places if self._frog(place)]
        inner = [place for place in places if 0 < place < self.count - 1]
        return next(iter(frogs or inner), None)

    def _frog(self, place: int) -> bool:
        metal = self.rail.chain[place]
        return metal is not None and self.is_frog(metal)

    def _part(self, back: bool) -> int:
        """Finds where the rail parts from others that begin (or, `back`, end) as it does; how many metals it shares
        there with one that is drawn before it."""
        chain = self.rail.chain[::-1] if back else self.rail.chain
        drawn = 0
        for index, other in enumerate(self.rails):
            same = (
                other.side == self.rail.side
                and other.way != self.rail.way
                and self._end(other, back) == self._end(self.rail, back)
            )
            shared = _common(chain, other.chain[::-1] if back else other.chain) if same else 0
            if shared and index < self.index:
                drawn = max(drawn, shared)
            place = self.count - shared if back else shared
            if 0 < shared < self.count and place not in self.at:
                one, two = self.lines[self.index], self.lines[index]
                self.at[place], self.open[place] = parting(one, two, CLOSED, back), parting(one, two, OPEN, back)
        return min(drawn, self.count)

    def _end(self, rail: RailWay, back: bool) -> str:
        return self.ways[rail.way].leave if back else self.ways[rail.way].enter

    def _between(self) -> list[float]:
        """All breaks in order: those that are not known at equal distances between those that are."""
        known = sorted(self.at)
        shares: list[float] = []
        least = 0.0
        for place, following in zip(known, known[1:], strict=False):
            here = min(max(self.at[place], least), 1.0)
            there = min(max(self.at[following], here), 1.0)
            steps = following - place
            shares += [here + (there - here) * step / steps for step in range(steps)]
            least = here
        return [*shares, 1.0]


def _common(one: Sequence[int | None], other: Sequence[int | None]) -> int:
    """How many metals two rails have in common at their beginning."""
    count = 0
    for here, there in zip(one, other, strict=False):
        if here != there:
            break
        count += 1
    return count


def _apart(shares: list[float]) -> list[float]:
    """Crossings that are one place told once."""
    found: list[float] = []
    for share in shares:
        if not found or share - found[-1] > 0.03:
            found.append(share)
    return found
