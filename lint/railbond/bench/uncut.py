"""What was done to a piece's own metal: the jumpers that its cuts took away and the bonds that were soldered on."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from railbond.layout.model import Piece
from railbond.layout.template import Template, Tie
from trackplan.statements import ClosureBond, Cut

PART = "cut the one from the other"
KEEP = "leave the jumper under the frog; if yours has none, solder one"
NO_JUMPER = "cut the jumper under the frog, if yours has one"


def bonds(piece: Piece) -> Iterator[tuple[ClosureBond, Tie]]:
    """Each soldered bond of a piece, with the statement that asks for it."""
    statement = next((one for one in piece.work if isinstance(one, ClosureBond)), None)
    if statement is not None:
        yield from ((statement, tie) for tie in piece.template.ties if tie.kind == "bond")


def pairs_at_frog(piece: Piece) -> Iterator[tuple[Cut, int, int, str]]:
    """The pairs of metals at a frog that was cut: which to part, and which to keep joined by a jumper under it."""
    cuts = [one for one in piece.work if isinstance(one, Cut)]
    if not cuts:
        return
    tied = {frozenset((tie.one, tie.other)) for tie in piece.template.ties if tie.when is None}
    for closure, frog, rail in _ways(piece.template):
        for one, other, word in ((closure, frog, "closure"), (frog, rail, "rails")):
            if frozenset((one, other)) not in tied:
                yield next((cut for cut in cuts if word in cut.what), cuts[0]), one, other, PART
        yield cuts[0], closure, rail, KEEP if frozenset((closure, rail)) in tied else NO_JUMPER


def _ways(template: Template) -> Iterator[tuple[int, int, int]]:
    """Closure rail, frog and frog rail of each route over a metal frog."""
    frogs = {frog.metal for frog in template.frogs}
    for one, other in pairwise(template.passes):
        if one.other == other.one and one.other in frogs:
            yield one.one, one.other, other.other
