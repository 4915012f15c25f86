"""Lengths, places and routes of running trains in words, and the usual mends, shared by the rules about running."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import zip_longest

from railbond.circuit.facts import Facts
from railbond.circuit.running import measure
from railbond.layout.model import Piece
from railbond.layout.said import said
from trackplan.amend import add_clause, set_statement, set_word
from trackplan.edit import Edit
from trackplan.statements import Engine, FrogFromStockRails, FrogUnpowered, Gap
from trackplan.typed import TYPE_CHECKING

from .fix_edits import line_after, local
from .frog_feeds import unit_lines, unit_wire

if TYPE_CHECKING:
    from railbond.circuit.running.stalling import StallAt
    from railbond.circuit.running.windows import Window

BUILT_TO_BE_FED = "isolated-frog"


def stretch_words(trouble: StallAt) -> str:
    """From where to where the engine's foremost pickup wheel is in trouble: `20 to 21.3 cm past T1.points`."""
    window, front = trouble.window, trouble.engine.foremost
    start, stop = (place - front for place in trouble.interval)
    at = max((i for i, place in enumerate(window.starts) if place <= start), default=0)
    leg = window.legs[at]
    here, there = (measure(place - window.starts[at]) for place in (start, stop))
    number, _, unit = here.partition(" ")
    first = number if unit == there.partition(" ")[2] else here
    return f"{first} to {there} past {leg.piece}.{leg.enter}"


def route_words(window: Window) -> str:
    """The points that a train has before it: `from lead over T1 (through) to line`."""
    named = [f"{leg.piece} ({leg.position})" if leg.position else leg.piece for leg in window.legs]
    if len(named) == 1:
        return f"over {named[0]}"
    over = f" over {', '.join(named[1:-1])}" if named[2:] else ""
    return f"from {named[0]}{over} to {named[-1]}"


def can_be_fed(facts: Facts, piece: Piece) -> bool:
    """Whether the piece has a frog that is not fed, and that it could be."""
    fed = {frog for feed in facts.layout.feeds(piece.name) if feed.kind != "unpowered" for frog in feed.frogs}
    return bool(piece.template.shape.build) and not fed


def feed_frogs(facts: Facts, pieces: Iterable[Piece], contacts: bool = True) -> tuple[Edit, ...]:
    """The frogs of some pieces fed; no edits where those of one of them cannot be made."""
    made = [_feed_frog(facts, piece, contacts) for piece in pieces]
    return tuple(edit for edits in made for edit in edits) if all(made) else ()


def _feed_frog(facts: Facts, piece: Piece, contacts: bool) -> tuple[Edit, ...]:
    """Frogs of metal in place of plastic ones, and their feed: from the stock rails through contacts, or from automatic
    units where there are no such points. What is laid by one line, as a scissors is, is built alike."""
    built: tuple[Edit, ...] = ()
    alike = [piece]
    build = said(piece, "build")
    if build == "dead-frog":
        built = (set_word(piece.statement, build, BUILT_TO_BE_FED),)
        alike = [one for one in facts.layout.pieces.values() if one.statement.at == piece.statement.at]
    rebuilt = facts.tried(built) if built else facts
    if rebuilt is None:
        return ()
    return (*built, *(edit for one in alike for edit in _fed(facts, rebuilt, one, contacts)))


def _fed(facts: Facts, rebuilt: Facts, piece: Piece, contacts: bool) -> Iterator[Edit]:
    """The lines that feed the frogs of a piece as it is rebuilt, in the place of those that left them dead."""
    wire = unit_wire(facts, piece)
    lines = [f"frog {local(piece)}  switched from stock rails"]
    if not (contacts and piece.template.has_points):
        lines = unit_lines(rebuilt, rebuilt.layout.pieces[piece.name], wire) if wire else []
    for feed in facts.layout.feeds(piece.name):
        if isinstance(feed.statement, FrogUnpowered):
            yield set_statement(feed.statement, lines.pop(0) if lines else "")
    yield from (line_after(facts, FrogFromStockRails, piece.statement, line) for line in lines)


def feed_words(facts: Facts, piece: Piece, contacts: bool = True) -> str:
    """The same for the hands."""
    name = local(piece)
    moved = contacts and piece.template.has_points
    how = "contacts that move with its points" if moved else "automatic frog units"
    if piece.template.shape.build == "dead-frog":
        return f"in the place of {name} put trackwork with isolated metal frogs, and feed them through {how}"
    return f"feed the frog of {name} through {how}"


def wires_of(facts: Facts, supply: str) -> list[str]:
    """The supply itself and the terminals that it alone reaches with its legs the same way round, the nearest first."""
    found = [supply]
    for name in found:
        ends = (run for run in facts.layout.runs if run.source == name and not run.crossed)
        found += [run.terminal for run in ends if facts.supply_of_wire.get(run.terminal) == frozenset({supply})]
    return list(dict.fromkeys(found))


def moved_gaps(old: Iterable[Gap], new: Iterable[Edit]) -> tuple[Edit, ...]:
    """Gaps made elsewhere: the new lines in the place of the old ones, as far as there are both."""
    pairs = zip_longest(old, new)
    return tuple(set_statement(gap, edit.text if edit else "") if gap else edit for gap, edit in pairs)


def kept_alive(engine: Engine, seconds: float) -> tuple[Edit, ...]:
    """The engine with a capacitor of at least so many seconds, in whole tenths."""
    words = f"{-(-round(seconds * 1000, 3) // 100) * 100:g} ms"
    if engine.capacitor is not None:
        return (set_word(engine, engine.capacitor, words),)
    return (add_clause(engine, "capacitor", f"capacitor {words}"),)
