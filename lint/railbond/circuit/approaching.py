"""How the points stand for a train that comes out at an end: the whole way back, as far as it hangs on points.

A train comes from where track ends, from a table's bridge, or all round a loop. What it does by going back and forth is
no way of its own: for the time in between points may stand as they like.
"""

from __future__ import annotations

from collections.abc import Iterator

from railbond.layout.model import EndAt, Piece

from .across import choices
from .graph import Setting, agree
from .wiring import Wiring

MOST = 200
"""Legs that are followed back from one end; of a way that is longer, what it asks for so far counts."""


class Approaches:
    """The ways on which trains come, by the end at which they come out."""

    def __init__(self, wiring: Wiring) -> None:
        self.wiring = wiring
        meetings = wiring.layout.meetings
        self.beyond = {one.one: one.other for one in meetings} | {one.other: one.one for one in meetings}
        self.found: dict[EndAt, tuple[Setting, ...]] = {}

    def to(self, end: EndAt) -> tuple[Setting, ...]:
        """The least settings in which a way leads out at an end; none where only a train set against points does."""
        if end not in self.found:
            ways = sorted(set(self._ways(end)), key=lambda way: (len(way), sorted(way)))
            least = [way for n, way in enumerate(ways) if not any(less <= way for less in ways[:n])]
            self.found[end] = tuple(least)
        return self.found[end]

    def _ways(self, end: EndAt) -> Iterator[Setting]:
        waiting: list[tuple[EndAt, Setting, frozenset[EndAt]]] = [(end, frozenset(), frozenset())]
        left = MOST
        for out, setting, seen in waiting:
            piece = self.wiring.layout.pieces[out.piece]
            if piece.template.bridge or left <= 0 or out in seen:
                yield setting
                continue
            for enter, stands in self._legs(piece, out.end):
                if not agree(longer := setting | stands):
                    if any(one.piece == piece.name for one in seen):  # it has come round, and they were thrown since
                        yield setting
                else:
                    left -= 1
                    before = self.beyond.get(EndAt(piece.name, enter))
                    if before is None:
                        yield longer
                    else:
                        waiting.append((before, longer, seen | {out}))

    def _legs(self, piece: Piece, leave: str) -> Iterator[tuple[str, Setting]]:
        """Each end at which a train enters a piece that leaves it there, and how points then stand."""
        ends, faced = piece.template.ends, piece.template.shape.faced
        for enter, end in ends.items():
            same = piece.template.is_plain or end.part == ends[leave].part
            if end.leaves == ends[leave].leaves or not same or faced.get(enter, leave) != leave:
                continue
            routes = [set(one.routes) for one in (end, ends[leave]) if one.routes]
            if not routes:
                yield enter, frozenset()
            for position in sorted(set.intersection(*routes)) if routes else ():
                yield from ((enter, stands) for stands in choices(self.wiring.needs(piece.name, (position,))))
