"""How frogs get their power: what each `frog` statement feeds, and by which wires."""

from __future__ import annotations

from railbond.findings import Step
from trackplan.record import new
from trackplan.span import Word
from trackplan.statements import (
    FrogAutomatic,
    FrogFromStockRails,
    FrogSwitched,
    FrogUnpowered,
    where,
)
from trackplan.typed import Literal

from .model import FrogFeed, Piece
from .names import Names
from .symbols import SPECIAL, SymbolTable
from .template import frog_names
from .terminals import Terminals

FrogStatement = FrogSwitched | FrogFromStockRails | FrogAutomatic | FrogUnpowered


def feed_frogs(symbols: SymbolTable, names: Names, pieces: dict[str, Piece], power: Terminals) -> dict[str, FrogFeed]:
    """The feed of each frog or piece that a statement speaks of, by what it is called. The first statement stands."""
    feeds: dict[str, FrogFeed] = {}
    of_piece: dict[str, list[FrogFeed]] = {}
    for statement in symbols.among(FrogSwitched, FrogFromStockRails, FrogAutomatic, FrogUnpowered):
        piece, one = _piece(statement, names, pieces)
        if not piece or not _takes_power(statement, piece, names):
            continue
        frogs = tuple(range(len(piece.template.frogs))) if one is None else (one,)
        name = piece.name if one is None else names.whole(statement.turnout)
        own = of_piece.setdefault(piece.name, [])
        first = next((feed for feed in own if feed.name == name or not set(frogs).isdisjoint(feed.frogs)), None)
        if first:
            _fed_twice(statement, first, names)
        else:
            fed = fed_by(statement, piece, names, pieces, power)
            feeds[name] = new(FrogFeed, (*fed[:-2], name, frogs))
            own.append(feeds[name])
    return feeds


def _piece(statement: FrogStatement, names: Names, pieces: dict[str, Piece]) -> tuple[Piece | None, int | None]:
    """The piece that a statement speaks of, and which of its frogs (None: all of them)."""
    owner, dot, last = names.whole(statement.turnout).rpartition(".")
    if not dot or owner not in pieces or names.whole(statement.turnout) in pieces:
        return pieces.get(names.find(statement, statement.turnout, SPECIAL, "turnout") or ""), None
    piece = pieces[owner]
    known = frog_names(piece.template)
    if last in known:
        return piece, known[last]
    what = [f"`{names.typed(f'{owner}.{one}')}`" for one in (known if len(known) > 1 else ())]
    expected = " or ".join((f"`{names.typed(owner)}`", *what))
    message = f"`{statement.turnout}` is no frog; expected {expected}"
    names.fault("impossible", statement, statement.turnout, message, name=Word(names.typed(owner)))
    return None, None


def fed_by(
    statement: FrogStatement, piece: Piece, names: Names, pieces: dict[str, Piece], power: Terminals
) -> FrogFeed:
    """What a statement feeds to the frogs of its piece."""
    if isinstance(statement, FrogSwitched):
        return _switched(statement, piece, names, pieces, power)
    if isinstance(statement, FrogAutomatic):
        return FrogFeed(piece.name, "automatic", statement, supply=power.pair(statement, statement.supply))
    kind: Literal["stock rails", "unpowered"] = "unpowered" if isinstance(statement, FrogUnpowered) else "stock rails"
    return FrogFeed(piece.name, kind, statement)


def _switched(
    statement: FrogSwitched, piece: Piece, names: Names, pieces: dict[str, Piece], power: Terminals
) -> FrogFeed:
    """Frogs fed through contacts that points move: their own, or those of another piece."""
    wires = {leg: power.wire(statement, word) for leg, word in enumerate((statement.through, statement.diverging))}
    contacts = {leg: wire for leg, wire in wires.items() if wire}
    return FrogFeed(piece.name, "switched", statement, _mover(statement, names, pieces), contacts)


def _mover(statement: FrogSwitched, names: Names, pieces: dict[str, Piece]) -> str | None:
    """The other piece whose points move the contacts."""
    if statement.mover is None:
        return None
    name = names.find(statement, statement.mover, SPECIAL, "turnout")
    if name in pieces and not pieces[name].template.positions:
        message = f"`{statement.mover}` has no points that could move contacts"
        names.fault("impossible", statement, statement.mover, message, name=statement.turnout)
        return None
    return name if name in pieces else None


def _takes_power(statement: FrogStatement, piece: Piece, names: Names) -> bool:
    """Whether there is metal to feed; a frog left unpowered needs none."""
    if piece.template.frogs or isinstance(statement, FrogUnpowered):
        return True
    build = getattr(piece.statement, "build", "without a metal frog")
    names.fault(
        "impossible",
        statement,
        statement.turnout,
        f"the frog of `{statement.turnout}` is plastic and takes no power",
        "say live-frog or isolated-frog at the turnout, if its frog is of metal",
        why=(Step(where(piece.statement), f"`{statement.turnout}` is {build}"),),
    )
    return False


def _fed_twice(statement: FrogStatement, first: FrogFeed, names: Names) -> None:
    message = f"a frog has one feed, and that of `{statement.turnout}` is already told; the first one stands"
    why = (Step(where(first.statement), "the first one"),)
    names.fault("impossible", statement, statement.turnout, message, "keep one of the two lines", why=why)
