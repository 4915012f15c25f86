"""Plain track as trains find it: its stretches, and the gates at which they roll onto these.

A *stretch* is plain track that goes on from end to end without points, and a *gate* one of its ends at which points or
a table's bridge lead onto it.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from functools import cached_property, partial

from railbond.layout.model import EndAt, Piece
from trackplan.record import NamedTuple

from .across import ALWAYS, choices
from .approaching import Approaches
from .graph import Setting, agree
from .track_pairs import Pair, Place, pairs
from .wiring import Wiring


class Gate:
    """Where a train rolls onto a stretch: from the pair `outside` onto `inside`, side by side. `end` is that of the
    piece outside, or of a table."""

    def __init__(
        self, end: EndAt, outside: Pair, inside: Pair, come: Callable[[], tuple[Setting, ...]], at_table: bool = False
    ) -> None:
        self.end, self.outside, self.inside, self.at_table = end, outside, inside, at_table
        self.come = come

    @cached_property
    def ways(self) -> tuple[Setting, ...]:
        """The settings in any of which it does: as the points stand for the whole way on which it comes. To follow
        them back is long, and most track always has its volts, so that nobody asks."""
        return self.come()


class PlainStretch(NamedTuple):
    """`is_open`: a train also comes from where the plan does not show track, or is put there by hand."""

    places: tuple[Place, ...]
    gates: tuple[Gate, ...]
    is_open: bool


def stretches(wiring: Wiring, touching: Iterable[Piece] | None = None) -> list[PlainStretch]:
    """All plain track, or those stretches that some pieces are part of, or are the tables at, by the names of their
    pieces."""
    return list(_Walk(wiring).stretches(touching))


class _Walk:
    """Gathers stretches; the tracks at a table's pit are plain, and parted from its bridge."""

    def __init__(self, wiring: Wiring) -> None:
        self.wiring = wiring
        self.layout = layout = wiring.layout
        self.beyond = {one.one: one.other for one in layout.meetings} | {one.other: one.one for one in layout.meetings}
        self.edges = {edge.end for edge in layout.edges.values()}
        self.stops = set(layout.stops)
        self.seen: set[str] = set()
        self.approaches = Approaches(wiring)

    def stretches(self, touching: Iterable[Piece] | None = None) -> Iterator[PlainStretch]:
        """Each of those."""
        for piece in self.wiring.pieces if touching is None else self._first(touching):
            if piece.template.is_plain and piece.name not in self.seen:
                yield self._stretch(piece)
            elif piece.template.bridge:
                gates = [gate for name in piece.template.ends for gate in self._onto_bridge(piece, name)]
                first = self.wiring.first[piece.name]
                pair = first + piece.template.bridge[0], first + piece.template.bridge[1]
                yield PlainStretch((Place(piece.name, pair),), tuple(gates), False)

    def _first(self, pieces: Iterable[Piece]) -> list[Piece]:
        """The first piece by its name of each stretch that these touch, and the tables among them."""
        order, firsts, known = self.wiring.first, dict[str, None](), set[str]()
        for piece in pieces:
            ends = [self.beyond.get(EndAt(piece.name, name)) for name in piece.template.ends]
            around = [end.piece for end in ends if end] if piece.template.bridge else []
            for name in (piece.name, *around):
                if name not in known:
                    row = self._row(name)
                    known.update(row)
                    firsts[min(row, key=order.__getitem__)] = None
        return [self.layout.pieces[name] for name in sorted(firsts, key=order.__getitem__)]

    def _row(self, name: str) -> list[str]:
        """All plain track that hangs together with a piece of it; another piece by itself."""
        row, seen = [name], {name}
        for here in row:
            template = self.layout.pieces[here].template
            for there in (self.beyond.get(EndAt(here, end)) for end in template.ends if template.is_plain):
                if there and there.piece not in seen and self.layout.pieces[there.piece].template.is_plain:
                    seen.add(there.piece)
                    row.append(there.piece)
        return row

    def _stretch(self, start: Piece) -> PlainStretch:
        self.seen.add(start.name)
        row, gates, is_open = [start], list[Gate](), False
        for here in row:
            for end in (EndAt(here.name, name) for name in here.template.ends):
                there = self.beyond.get(end)
                if there is None:
                    is_open = is_open or end in self.edges or end not in self.stops
                elif self.layout.pieces[there.piece].template.is_plain:
                    row += self._fresh(there.piece)
                else:
                    gates += self._gates(there, end)
        places = tuple(Place(one.name, pair) for one in row for pair in pairs(self.wiring, one))
        return PlainStretch(places, tuple(gates), is_open or not gates)

    def _fresh(self, name: str) -> list[Piece]:
        if name in self.seen:
            return []
        self.seen.add(name)
        return [self.layout.pieces[name]]

    def _gates(self, there: EndAt, here: EndAt) -> Iterator[Gate]:
        """Looking out of the piece with the points, its left rail meets the right one of the track beyond."""
        piece = self.layout.pieces[there.piece]
        if piece.template.bridge:
            for on in self._onto_bridge(piece, there.end, comes=False):
                yield Gate(on.end, on.inside, on.outside, on.come, True)
            return
        outside = self.wiring.rail(there, "left"), self.wiring.rail(there, "right")
        inside = self.wiring.rail(here, "right"), self.wiring.rail(here, "left")
        yield Gate(there, outside, inside, partial(self.approaches.to, there))

    def _onto_bridge(self, piece: Piece, name: str, comes: bool = True) -> Iterator[Gate]:
        """From a track at a pit onto the bridge, once for each position in which that stands there. Who `comes` to the
        pit has a way to it; who leaves was on the bridge while it turned."""
        template, first = piece.template, self.wiring.first[piece.name]
        end, before = template.ends[name], self.beyond.get(EndAt(piece.name, name))
        before = before if comes else None
        for position in end.routes:
            onto = {step.other: step.one for step in template.passes if step.route == position}
            outside, inside = (end.left, end.right), (onto[end.left], onto[end.right])
            pairs = [(first + left, first + right) for left, right in (outside, inside)]
            stands = choices(self.wiring.needs(piece.name, (position,)))
            yield Gate(EndAt(piece.name, name), pairs[0], pairs[1], partial(self._on_board, before, stands), True)

    def _on_board(self, before: EndAt | None, stands: list[Setting]) -> tuple[Setting, ...]:
        """The settings in which a train that comes out at an end, or stands there, rolls on as the table stands."""
        come = self.approaches.to(before) if before else (ALWAYS,)
        return tuple(way | one for way in come for one in stands if agree(way | one))
