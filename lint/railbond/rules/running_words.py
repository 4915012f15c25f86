"""Lengths, places and routes of running trains in words, and the usual mends, shared by the rules about running."""

from __future__ import annotations

from typing import TYPE_CHECKING

from railbond.circuit.facts import Facts
from railbond.circuit.running import measure
from railbond.layout.model import Piece
from trackplan.edit import Edit, replace
from trackplan.span import Span
from trackplan.statements import Engine, FrogFromStockRails, FrogUnpowered, Turnout, where

from .mends import line_after, local

if TYPE_CHECKING:
    from railbond.circuit.running.stalling import Trouble
    from railbond.circuit.running.walking import Window

BUILT_TO_BE_FED = "isolated-frog"


def stretch_words(trouble: Trouble) -> str:
    """From where to where the engine's foremost pickup wheel is in trouble: `20 to 21.3 cm past T1.points`."""
    window, front = trouble.window, trouble.engine.foremost
    start, stop = (place - front for place in trouble.interval)
    at = max((i for i, place in enumerate(window.starts) if place <= start), default=0)
    leg = window.legs[at]
    from_here = [measure(place - window.starts[at]) for place in (start, stop)]
    one, other = (words.split() for words in from_here)
    first = one[0] if one[1] == other[1] else " ".join(one)
    return f"{first} to {' '.join(other)} past {leg.piece}.{leg.enter}"


def route_words(window: Window) -> str:
    """The points that a train has before it: `from lead over T1 (through) to line`."""
    named = [f"{leg.piece} ({leg.position})" if leg.position else leg.piece for leg in window.legs]
    if len(named) == 1:
        return f"over {named[0]}"
    over = f" over {', '.join(named[1:-1])}" if named[2:] else ""
    return f"from {named[0]}{over} to {named[-1]}"


def can_be_fed(facts: Facts, piece: Piece) -> bool:
    """Whether the piece has a frog whose feeding these edits describe, and that is not fed yet."""
    feed = facts.layout.frogs.get(piece.name)
    return isinstance(piece.statement, Turnout) and (feed is None or feed.kind == "unpowered")


def feed_frog(facts: Facts, piece: Piece) -> tuple[Edit, ...]:
    """A frog of metal in place of a plastic one, fed from the stock rails through contacts."""
    turnout, feed = piece.statement, facts.layout.frogs.get(piece.name)
    assert isinstance(turnout, Turnout)
    line = f"frog {local(piece)}  switched from stock rails"
    fed = line_after(facts, FrogFromStockRails, turnout, line)
    if feed is not None and isinstance(feed.statement, FrogUnpowered):
        fed = replace(feed.statement.at, line)
    built = (replace(where(turnout, turnout.build), BUILT_TO_BE_FED),) if turnout.build == "dead-frog" else ()
    return (*built, fed)


def feed_words(facts: Facts, piece: Piece) -> str:
    """The same for the hands."""
    name = local(piece)
    if getattr(piece.statement, "build", None) == "dead-frog":
        return f"put a turnout with an isolated metal frog in the place of {name} and feed the frog through contacts"
    return f"feed the frog of {name} through contacts that move with its points"


def kept_alive(engine: Engine, seconds: float) -> tuple[Edit, ...]:
    """The engine with a keep-alive of at least so many seconds, in whole tenths."""
    words = f"{-(-round(seconds * 1000, 3) // 100) * 100:g} ms"
    if engine.keep_alive is not None:
        return (replace(where(engine, engine.keep_alive), words),)
    end = where(engine, (engine.unweighted or (engine.current,))[-1]).end
    return (replace(Span(engine.at.path, end, end), f"  keep-alive {words}"),)
