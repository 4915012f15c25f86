"""What was done to a piece's own metal: the jumpers that its cuts took away and the bonds that were soldered on."""

from __future__ import annotations

from collections.abc import Iterator

from railbond.layout.model import Piece
from railbond.layout.template import Impossible, Tie
from railbond.trackwork import template_for
from trackplan.statements import ClosureBond, Cut


def jumpers(piece: Piece) -> Iterator[tuple[Cut, Tie]]:
    """Each tie that a cut took away, with the cut: what holds again where nobody cut it."""
    for cut in piece.work:
        if isinstance(cut, Cut):
            yield from ((cut, tie) for tie in _without(piece, cut))


def _without(piece: Piece, cut: Cut) -> list[Tie]:
    """The ties that a piece would have besides, were it not for a cut."""
    work = tuple(one for one in piece.work if one is not cut)
    try:
        whole = template_for(piece.statement, work, ())
    except Impossible:
        return []
    if whole.metals != piece.template.metals:
        return []
    return [tie for tie in whole.ties if tie not in piece.template.ties and tie.when is None]


def bonds(piece: Piece) -> Iterator[tuple[ClosureBond, Tie]]:
    """Each soldered bond of a piece, with the statement that asks for it."""
    statement = next((one for one in piece.work if isinstance(one, ClosureBond)), None)
    if statement is not None:
        yield from ((statement, tie) for tie in piece.template.ties if tie.kind == "bond")
