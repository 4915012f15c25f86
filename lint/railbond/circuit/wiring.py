"""A layout's rail graph, and where everything lies in it; `wire_up` builds it."""

from __future__ import annotations

from collections.abc import Iterator
from functools import lru_cache

from railbond.layout.model import EndAt, FrogFeed, Layout, Meeting, Piece, Wire
from railbond.layout.order import by_name
from railbond.layout.template import OTHER_SIDE, End, Frog
from railbond.trackwork import contact_legs
from trackplan.record import NamedTuple

from .aligning import Needs
from .graph import Literal, RailGraph


class Wiring(NamedTuple):
    """A layout's rail graph, and where each piece's and each wire's conductors begin in it."""

    layout: Layout
    graph: RailGraph
    first: dict[str, int]
    wires: dict[str, int]
    aligned: dict[str, dict[str, Needs]]
    """For track without points of its own that is aligned with other points: how those stand for each route."""
    order: list[int]
    """The numbers of the layout's meetings by the names of their pieces and the ends as these have them; those of the
    whole layout, where this is the wiring of a part of it, of which nobody asks for them."""

    @property
    def pieces(self) -> Iterator[Piece]:
        """The layout's pieces by their names: what is chosen of equals is the same in whatever order the lines are."""
        return map(self.layout.pieces.__getitem__, self.first)

    @property
    def meetings(self) -> Iterator[tuple[int, Meeting]]:
        """The layout's meetings, numbered as there, in their `order`."""
        return zip(self.order, map(self.layout.meetings.__getitem__, self.order), strict=True)

    def literal(self, piece: str, position: str) -> Literal:
        """The switch that stands for a piece's position, and how: its own, or the one that it is aligned with."""
        if piece not in self.aligned:
            return piece, position
        needs = self.aligned[piece].get(position)
        return (needs[0][0], needs[0][1][0]) if needs else (piece, position)

    def needs(self, piece: str, positions: tuple[str, ...]) -> tuple[tuple[str, tuple[str, ...]], ...]:
        """The same for any of some positions, as a roll needs it; nothing where there are none."""
        if piece not in self.aligned:
            return ((piece, _each_once(positions)),) if positions else ()
        found: dict[str, tuple[str, ...]] = {}
        for position in positions:
            for switch, stands in self.aligned.get(piece, {}).get(position, ((piece, (position,)),)):
                found[switch] = tuple(dict.fromkeys((*found.get(switch, ()), *stands)))
        return tuple(found.items())

    def is_set(self, piece: str) -> bool:
        """Whether a piece with positions has a switch of its own: not if it is aligned with other points in each."""
        return any(switch == piece for switch, _ in self.needs(piece, self.layout.pieces[piece].template.positions))

    @property
    def owners(self) -> tuple[str, ...]:
        """The piece of each conductor; an empty name for a wire."""
        owners = [""] * len(self.graph.names)
        for name, piece in self.layout.pieces.items():
            first = self.first[name]
            owners[first : first + len(piece.template.metals)] = [name] * len(piece.template.metals)
        return tuple(owners)

    @property
    def neighbors(self) -> dict[str, tuple[tuple[str, int, int], ...]]:
        """For each piece the pieces it meets, rail by rail: their name, its own rail, their rail."""
        found: dict[str, list[tuple[str, int, int]]] = {}
        for _, meeting in self.meetings:
            for side in ("left", "right"):
                one, other = self.across(meeting, side)
                found.setdefault(meeting.one.piece, []).append((meeting.other.piece, one, other))
                found.setdefault(meeting.other.piece, []).append((meeting.one.piece, other, one))
        return {piece: tuple(others) for piece, others in found.items()}

    def metal(self, piece: str, metal: int) -> int:
        """The conductor of a piece's metal."""
        return self.first[piece] + metal

    def wire(self, wire: Wire) -> int:
        """The conductor of one leg of a supply or terminal."""
        return self.wires[wire.name] + wire.leg

    def end(self, at: EndAt) -> End:
        """What a piece's template says of that end."""
        return self.layout.pieces[at.piece].template.ends[at.end]

    def rail(self, at: EndAt, side: str) -> int:
        """The conductor on that side of an end, looking out of it."""
        return self.first[at.piece] + self.end(at).side(side)

    def across(self, meeting: Meeting, side: str) -> tuple[int, int]:
        """The two rails that meet on a side, looking out of the meeting's first end."""
        return self.rail(meeting.one, side), self.rail(meeting.other, OTHER_SIDE[side])


@lru_cache(256)
def _each_once(positions: tuple[str, ...]) -> tuple[str, ...]:
    """The same positions for all who ask, each once."""
    return tuple(dict.fromkeys(positions))


def contacts(wiring: Wiring, feed: FrogFeed, frog: Frog) -> Iterator[tuple[Literal, Wire]]:
    """How the points stand for each contact of a frog, and the wire that it then brings.

    A frog with other points than its piece's own gets the first wire in their first position; of aligned track, what
    its first route gets. That is how the contact is wired, whichever route the points then lead to.
    """
    piece, mover = wiring.layout.pieces[feed.piece], wiring.layout.pieces[feed.mover or feed.piece]
    if mover is piece or piece.template.aligned:
        thrown = dict(zip(piece.template.positions, mover.template.positions, strict=False))
        for position, leg in contact_legs(piece.statement, piece.template, frog).items():
            if leg in feed.contacts and position in thrown:
                yield (mover.name, thrown[position]), feed.contacts[leg]
        return
    for leg, wire in feed.contacts.items():
        if leg < len(mover.template.positions):
            yield wiring.literal(mover.name, mover.template.positions[leg]), wire


def stock_contacts(piece: Piece, frog: Frog) -> dict[str, int]:
    """The rail that a frog's contacts bring in each position, where they hang on the piece's own rails."""
    rails = {frog.legs[position]: rail for position, rail in frog.wants.items()}
    legs = contact_legs(piece.statement, piece.template, frog)
    return dict(frog.wants) | {at: rails[leg] for at, leg in legs.items() if at not in frog.wants}


def common_groups(layout: Layout) -> dict[Wire, str]:
    """The common rail that each leg is part of; rails that share a leg are one."""
    found: dict[Wire, str] = {}
    for one in layout.commons:
        group = f"{one.legs[0].name}.{one.legs[0].leg}"
        joined = {found[wire] for wire in one.legs if wire in found}
        found |= dict.fromkeys([*one.legs, *(wire for wire, name in found.items() if name in joined)], group)
    return found


def supplies_by_wire(layout: Layout) -> dict[str, frozenset[str]]:
    """For each supply and terminal the supplies whose bus runs reach it; a supply reaches itself."""
    reach = {name: {name} for name in layout.supplies}
    for _ in range(len(layout.runs) + 1):
        before = sum(map(len, reach.values()))
        for run in layout.runs:
            reach.setdefault(run.terminal, set()).update(reach.get(run.source, ()))
        if sum(map(len, reach.values())) == before:
            break
    same = {found: found for found in map(frozenset, reach.values())}
    return {name: same[frozenset(reach[name])] for name in sorted(reach, key=by_name)}
