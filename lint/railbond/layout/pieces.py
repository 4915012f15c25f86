"""The pieces of trackwork: each statement's template, with the work done on it or the cuts within it."""

from __future__ import annotations

from collections import defaultdict

from railbond.findings import Step
from trackplan.pits import Table
from trackplan.record import new
from trackplan.span import Word
from trackplan.statements import ApproachTrack, ClosureBond, Cut, Statement, Trackwork, where
from trackplan.typed import Any, Protocol

from .cuts import CutGaps, SegmentCut, segment_cuts
from .model import Piece
from .names import Names
from .symbols import PIECES, SPECIAL, TABLES, SymbolTable
from .template import Impossible, Template

Work = tuple[Statement, ...]


class TemplateMaker(Protocol):
    """Makes the template of a piece; raises `Impossible` for work that its metal does not allow."""

    def __call__(self, statement: Statement, work: Work, cuts: tuple[SegmentCut, ...], /) -> Template: ...


def make_pieces(symbols: SymbolTable, names: Names, templates: TemplateMaker) -> dict[str, Piece]:
    """Every piece by its whole name, in the plan's order. A segment's `work` is the gaps within it."""
    work, cuts = _special_work(symbols, names) | _approaches(symbols, names), segment_cuts(symbols, names)
    pieces: dict[str, Piece] = {}
    for name in names.of(*PIECES):
        statement: Any = names.defined[name]
        if piece := _made(name, statement, tuple(work.get(name, ())), cuts.get(name, {}), names, templates):
            pieces[name] = piece
    return pieces


def _made(
    name: str, statement: Trackwork, work: Work, cuts: CutGaps, names: Names, templates: TemplateMaker
) -> Piece | None:
    """A piece with its cuts and its work, of which what its metal does not allow is told and left out."""
    places = tuple(sorted(cuts)) if cuts else ()
    gaps = tuple(dict.fromkeys(cuts[place] for place in places)) if cuts else ()
    try:
        return new(Piece, (name, statement, templates(statement, work, places), (*work, *gaps)))
    except Impossible:
        template = _as_built(statement, names, templates)
    done: Work = ()
    for one in work if template else ():
        try:
            template = templates(statement, (*done, one), ())
            done = (*done, one)
        except Impossible as impossible:
            why = _steps(statement, done)
            names.fault("impossible", one, None, str(impossible), why=why, name=statement.name)
            if isinstance(one, ApproachTrack):  # what is joined to it is told no more
                names.missing.add(names.whole(one.track))
    return Piece(name, statement, template, (*done, *gaps)) if template else None


def _as_built(statement: Trackwork, names: Names, templates: TemplateMaker) -> Template | None:
    """The template of a piece that nobody worked on; one that cannot be built at all is told."""
    try:
        return templates(statement, (), ())
    except Impossible as impossible:
        names.fault("impossible", statement, impossible.part, str(impossible), name=statement.name)
        names.set_aside(statement)
        return None


def _steps(piece: Trackwork, done: Work) -> tuple[Step, ...]:
    built = Step(where(piece), f"`{piece.name}` is {getattr(piece, 'build', 'told here')}")
    if isinstance(piece, Table):
        return (built, *(Step(where(one), "this track is there already") for one in done))
    return (built, *(Step(where(one), f"this is done on `{piece.name}`") for one in done))


def _approaches(symbols: SymbolTable, names: Names) -> dict[str, list[Statement]]:
    """The approach tracks of each table."""
    found: defaultdict[str, list[Statement]] = defaultdict(list)
    for one in symbols.of(ApproachTrack):
        table, dot, _ = one.track.rpartition(".")
        if not dot:
            message = f"`{one.track}` is no track of a table: expected both names, such as `TT.lead`"
            names.fault("impossible", one, one.track, message)
        elif name := names.find(one, Word(table, one.track.start), TABLES, "turntable or transfer table"):
            found[name].append(one)
    return found


def _special_work(symbols: SymbolTable, names: Names) -> dict[str, list[Statement]]:
    """The bonds and cuts of each piece; the same work said twice is told."""
    work: defaultdict[str, list[Statement]] = defaultdict(list)
    said: dict[tuple[str, str], Statement] = {}
    for one in symbols.among(ClosureBond, Cut):
        name = names.find(one, one.turnout, SPECIAL, "turnout")
        if name and (first := said.setdefault((name, getattr(one, "what", "bond")), one)) is not one:
            why = (Step(where(first), "it is told here"),)
            message = f"this work on `{one.turnout}` is already told"
            names.fault("impossible", one, None, message, "take one of the two lines out", why=why, name=one.turnout)
        elif name:
            work[name].append(one)
    return work
