"""Pieces of a layout that are made anew: cut within, worked on, or of another length.

What lies beside such a piece stays as it was; what is soldered to it is soldered anew.
"""

from __future__ import annotations

from trackplan.statements import ClosureBond, Cut, Gap, Segment, Statement

from .cuts import MICROMETER, RAILS, SegmentCut
from .doubts import LONGEST, SHORTEST
from .model import Piece
from .redraft import Redraft
from .shape import Shape
from .symbols import SPECIAL
from .template import Impossible, Template

Work = tuple[Statement, ...]


def lengthened(redraft: Redraft, old: Segment, new: Segment) -> bool:
    """Whether it is another length, or rail of another size, of track that is not cut between its ends."""
    piece = redraft.layout.pieces.get(redraft.names.whole(old.name))
    is_long = not SHORTEST <= new.length <= LONGEST
    if not piece or piece.statement is not old or piece.work or is_long or tuple(old[1:4]) != tuple(new[1:4]):
        return False
    try:
        redraft.put(Piece(piece.name, new, redraft.templates(new, (), ())))
    except Impossible:
        return False
    return True


def cut_within(redraft: Redraft, gap: Gap) -> bool:
    """Whether it is a cut in the midst of plain track, where there is none yet."""
    piece = redraft.layout.pieces.get(redraft.names.whole(gap.place))
    new = _cuts(gap)
    if not piece or not isinstance(piece.statement, Segment) or redraft.layout.faults:
        return False
    cuts = {cut: one for one in piece.work if isinstance(one, Gap) for cut in _cuts(one)}
    length = round(piece.statement.length, MICROMETER)
    if not new or not cuts.keys().isdisjoint(new) or not all(0 < place < length for place, _ in new):
        return False
    cuts |= dict.fromkeys(new, gap)
    places = tuple(sorted(cuts))
    return _put(redraft, piece, tuple(dict.fromkeys(map(cuts.__getitem__, places))), places)


def _cuts(gap: Gap) -> list[SegmentCut]:
    place = round(float(gap.offset or 0), MICROMETER)
    return [(place, side) for side in RAILS.get(gap.rail, ())]


def worked_on(redraft: Redraft, work: ClosureBond | Cut) -> bool:
    """Whether it is work on a piece that leaves its frogs and its ends as they are, and is not done yet."""
    piece = redraft.layout.pieces.get(redraft.names.whole(work.turnout))
    if not piece or not isinstance(piece.statement, SPECIAL) or redraft.layout.faults:
        return False
    if any(one[1:] == work[1:] for one in piece.work) or not _put(redraft, piece, (*piece.work, work)):
        return False
    before, after = piece.template, redraft.layout.pieces[piece.name].template
    same = (before.ends, before.positions, before.frogs) == (after.ends, after.positions, after.frogs)
    return same and bare(before) != bare(after)


def _put(redraft: Redraft, old: Piece, work: Work, cuts: tuple[SegmentCut, ...] = ()) -> bool:
    """Puts a piece of the same statement in the place of another; False where its metal cannot be so."""
    try:
        template = redraft.templates(old.statement, () if cuts else work, cuts)
    except Impossible:
        return False
    redraft.put(Piece(old.name, old.statement, template, work))
    return True


def bare(template: Template) -> Template:
    """A template without its lengths, and without what its rail is made of."""
    metals = tuple(metal._replace(stop=0.0) for metal in template.metals)
    return template._replace(metals=metals, shape=Shape())
