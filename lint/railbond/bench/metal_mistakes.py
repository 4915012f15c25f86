"""What may go wrong with cuts, insulated joiners, jumpers and bonds."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from railbond.circuit.graph import Bond
from railbond.layout.model import Meeting, Piece
from trackplan.span import Span

from .bonds import Bonds
from .mistake import Mistake
from .uncut import KEEP, NO_JUMPER, pairs_at_frog
from .uncut import bonds as soldered


def gap_mistakes(bonds: Bonds) -> Iterator[Mistake]:
    """A rail that is not cut, or the other one cut in its place."""
    wiring = bonds.wiring
    for meeting in wiring.layout.meetings:
        for side, gap in meeting.gaps.items():
            yield _uncut(bonds, *wiring.across(meeting, side), gap.at)
        if len(meeting.gaps) == 1:
            yield from _wrong_rail(bonds, meeting)
    for piece in wiring.layout.pieces.values():
        for link in piece.template.links:
            for one, other in zip(link.rails_one, link.rails_other, strict=True):
                if one != other:
                    ends = wiring.metal(piece.name, one), wiring.metal(piece.name, other)
                    yield _uncut(bonds, *ends, piece.statement.at)


def _uncut(bonds: Bonds, one: int, other: int, at: Span) -> Mistake:
    words = f"{bonds.name(one)} is not cut from {bonds.name(other)}"
    return Mistake("cut not made", words, (), (Bond(one, other, None, "joint", at),), at)


def _wrong_rail(bonds: Bonds, meeting: Meeting) -> Iterator[Mistake]:
    (side, gap), *_ = meeting.gaps.items()
    one, other = bonds.wiring.across(meeting, side)
    whole = bonds.wiring.across(meeting, "right" if side == "left" else "left")
    number = bonds.number(*whole, None, meeting.at)
    if number is not None:
        words = f"{bonds.name(whole[0])} is cut from {bonds.name(whole[1])}, in place of {bonds.name(one)}"
        yield Mistake("cut on the wrong rail", words, (number,), (Bond(one, other, None, "joint", gap.at),), gap.at)


def metalwork_mistakes(bonds: Bonds) -> Iterator[Mistake]:
    """Each jumper not cut and each bond forgotten, and all of a piece at once."""
    for piece in bonds.wiring.layout.pieces.values():
        yield from _jumpers(bonds, piece)
        yield from _bonds(bonds, piece)


def _jumpers(bonds: Bonds, piece: Piece) -> Iterator[Mistake]:
    made: list[Bond] = []
    for cut, one, other, note in pairs_at_frog(piece):
        ends = bonds.wiring.metal(piece.name, one), bonds.wiring.metal(piece.name, other)
        names = f"{bonds.name(ends[0])} {{}} its {_tail(bonds, ends[1])}"
        bond = Bond(*ends, None, "build", cut.at)
        if note == KEEP:
            number = bonds.number(*ends, None, piece.statement.at)
            words = f"the jumper under the frog from {names.format('to')} is missing or makes no contact"
            yield Mistake("jumper missing", words, () if number is None else (number,), (), cut.at)
            continue
        if note == NO_JUMPER:
            words = f"a jumper under the frog still joins {names.format('and')}"
        else:
            words = names.format("is not cut from")
            made.append(bond)
        yield Mistake("jumper not cut", words, (), (bond,), cut.at)
    if len(made) > 1:
        yield Mistake("jumpers not cut", f"{piece.name} was not cut at all at its frog", (), tuple(made), made[0].at)


def _bonds(bonds: Bonds, piece: Piece) -> Iterator[Mistake]:
    lost = []
    for bond, tie in soldered(piece):
        ends = bonds.wiring.metal(piece.name, tie.one), bonds.wiring.metal(piece.name, tie.other)
        number = bonds.number(*ends, None, bond.at)
        if number is not None:
            lost.append(number)
            words = f"the bond from {bonds.name(ends[0])} to its {_tail(bonds, ends[1])} is missing or makes no contact"
            yield Mistake("bond forgotten", words, (number,), (), bond.at)
    if len(lost) > 1:
        yield Mistake("bonds forgotten", f"{piece.name} has none of its bonds", tuple(lost), (), _at(bonds, lost))


def _tail(bonds: Bonds, conductor: int) -> str:
    """`through stock rail` of `T1's through stock rail`."""
    return bonds.name(conductor).partition("'s ")[2]


def _at(bonds: Bonds, numbers: Iterable[int]) -> Span | None:
    return bonds.graph.bonds[next(iter(numbers))].at
