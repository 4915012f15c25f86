"""How frogs get their power: what each `frog` statement feeds, and by which wires."""

from __future__ import annotations

from typing import Literal

from railbond.findings import Step
from trackplan.statements import (
    FrogAutomatic,
    FrogFromStockRails,
    FrogSwitched,
    FrogUnpowered,
    where,
)

from .model import FrogFeed, Piece
from .names import Names
from .symbols import SPECIAL, SymbolTable
from .terminals import Terminals

FrogStatement = FrogSwitched | FrogFromStockRails | FrogAutomatic | FrogUnpowered


def feed_frogs(symbols: SymbolTable, names: Names, pieces: dict[str, Piece], power: Terminals) -> dict[str, FrogFeed]:
    """The feed of each frog that a statement speaks of, by its turnout. The first statement stands."""
    feeds: dict[str, FrogFeed] = {}
    for statement in symbols.among(FrogSwitched, FrogFromStockRails, FrogAutomatic, FrogUnpowered):
        name = names.find(statement, statement.turnout, SPECIAL, "turnout")
        piece = pieces.get(name or "")
        if piece and name in feeds:
            _fed_twice(statement, feeds[piece.name], names)
        elif piece and _takes_power(statement, piece, names):
            feeds[piece.name] = _feed(statement, piece, names, pieces, power)
    return feeds


def _feed(statement: FrogStatement, piece: Piece, names: Names, pieces: dict[str, Piece], power: Terminals) -> FrogFeed:
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
        "take this line out; or, if the frog is of metal, say live-frog or isolated-frog at the turnout",
        why=(Step(where(piece.statement), f"`{statement.turnout}` is {build}"),),
    )
    return False


def _fed_twice(statement: FrogStatement, first: FrogFeed, names: Names) -> None:
    message = f"a frog has one feed, and that of `{statement.turnout}` is already told; the first one stands"
    why = (Step(where(first.statement), "the first one"),)
    names.fault("impossible", statement, statement.turnout, message, "keep one of the two lines", why=why)
