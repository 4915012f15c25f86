"""Slips at frogs and points: contacts, units, bonds, jumpers, and whose points were meant."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from railbond.circuit.facts import Facts
from railbond.circuit.keeping import once
from railbond.fixes.cut_metal import cuts_as_elsewhere, is_cut_one_way
from railbond.fixes.fix_edits import bond_words, line_after, local, rewritten_frog, swapped_contacts
from railbond.fixes.wires_nearby import wires_outwards
from railbond.layout.model import FrogFeed, Piece, Wire
from trackplan.amend import drop_clause, set_word
from trackplan.edit import Edit
from trackplan.span import Span
from trackplan.statements import (
    ClosureBond,
    Cut,
    FrogAutomatic,
    FrogFromStockRails,
    FrogSwitched,
)

from .meant import by_neighbors
from .slip import HandSlip, one_letter_off
from .wires import leg_word, local_name, nearest_wires

AS_ALL = -8.0
"""How much nearer, in steps, a turnout is cut as all others are: gaps beyond it may then have nothing to part."""

MOST_NAMES = 4
"""Names one letter off that are tried for one word."""


def feed_slips(facts: Facts, statement: FrogSwitched | FrogAutomatic) -> Iterator[HandSlip]:
    """Contacts swapped, moved by other points, or on another supply; an automatic unit on another supply."""
    feed = next((one for one in facts.layout.frogs.values() if one.statement.at == statement.at), None)
    if feed is None:
        return
    if isinstance(statement, FrogSwitched):
        words, said = "swap the two wires at the contacts of", "the contacts are the wrong way round at"
        edits = swapped_contacts(statement)
        yield _slip("contacts", statement, edits, f"{words} {feed.piece}'s frog", f"{said} {feed.piece}'s frog")
        yield from _one_contact(facts, feed, statement)
        yield from _mover(facts, feed, statement)
    yield from _supplied(facts, feed, statement)
    if isinstance(statement, FrogSwitched):
        words = f"feed {feed.piece}'s frog from its own stock rails through those contacts"
        said = f"the contacts of {feed.piece}'s frog bring other wires than its rails have"
        yield _slip("contact", statement, rewritten_frog(facts, feed), words, said)._replace(far=6)


def _slip(kind: str, statement: FrogSwitched | FrogAutomatic, edits: Iterable[Edit], words: str, said: str) -> HandSlip:
    return HandSlip(kind, statement.at, tuple(edits), words, said, (str(statement.turnout),))


def _one_contact(facts: Facts, feed: FrogFeed, statement: FrogSwitched) -> Iterator[HandSlip]:
    """One of the two wires on the leg, or on the supply, that it should not be on."""
    words = statement.through, statement.diverging
    wires = [feed.contacts.get(0), feed.contacts.get(1)]
    for index, (word, wire, other) in enumerate(zip(words, wires, reversed(wires), strict=True)):
        if wire and other and (wire.name != other.name or wire.leg == other.leg):
            text = f"{local_name(other.name)}.{leg_word(facts, other.name, 1 - other.leg)}"
            which = ("through", "diverging")[index]
            said = f"the {which} contact of {feed.piece}'s frog brings {word} in place of {text}"
            words_ = f"solder {text} to the {which} contact of {feed.piece}'s frog"
            yield _slip("contact", statement, (set_word(statement, word, text),), words_, said)


def _mover(facts: Facts, feed: FrogFeed, statement: FrogSwitched) -> Iterator[HandSlip]:
    if statement.mover is None:
        return
    source = facts.sources[statement.at.path]
    own = f"feed the frog of {feed.piece} through contacts that its own points move"
    edits = (drop_clause(source, statement, statement.mover, "with"),)
    said = f"the contacts of {feed.piece}'s frog move with {statement.mover} in place of its own points"
    yield _slip("mover", statement, edits, own, said)
    for name in _near(facts, statement.mover):
        if name == local_name(feed.piece):
            continue  # that is said without `with`
        said = f"the contacts of {feed.piece}'s frog move with {statement.mover} in place of {name}"
        words = f"feed the frog of {feed.piece} through contacts that {name} moves"
        yield _slip("letter", statement, (set_word(statement, statement.mover, name),), words, said)


def _supplied(facts: Facts, feed: FrogFeed, statement: FrogSwitched | FrogAutomatic) -> Iterator[HandSlip]:
    """The frog on another supply, that of the rails around it first."""
    own = feed.supply or next((wire.name for wire in feed.contacts.values()), "")
    around = wires_outwards(facts, [(feed.piece, 0)])
    wires = by_neighbors(facts, nearest_wires(facts, around, own), own, statement.at, {feed.piece})
    for far, wire in enumerate(wires):
        name = local_name(wire)
        words = f"feed {feed.piece}'s frog from {name}"
        said = f"{feed.piece}'s frog is fed from {local_name(own)} in place of {name}"
        yield _slip("contact", statement, rewired(facts, feed, statement, wire), words, said)._replace(far=far)


def rewired(facts: Facts, feed: FrogFeed, statement: FrogSwitched | FrogAutomatic, wire: str) -> Iterator[Edit]:
    """A frog's contacts or unit on another wire."""
    name = local_name(wire)
    if isinstance(statement, FrogAutomatic):
        yield set_word(statement, statement.supply, name)
        return
    for word, index in ((statement.through, 0), (statement.diverging, 1)):
        held: Wire | None = feed.contacts.get(index)
        if held:
            yield set_word(statement, word, f"{name}.{leg_word(facts, wire, held.leg)}")


Work = ClosureBond | Cut | FrogFromStockRails | FrogSwitched | FrogAutomatic


def work_slips(facts: Facts, statement: Work) -> Iterator[HandSlip]:
    """Work that was meant for the turnout with nearly the same name, but for what this would take from one."""
    for name in _near(facts, statement.turnout) if not _is_done(facts, statement) else ():
        edits = (set_word(statement, statement.turnout, name),)
        words = f"do this at {name} in place of {statement.turnout}"
        said = f"the line names {statement.turnout} in place of {name}"
        yield HandSlip("letter", statement.at, edits, words, said, (str(statement.turnout), name))


def _is_done(facts: Facts, statement: Work) -> bool:
    """Whether a line tells work that its turnout can have, and that no line before it has told."""
    return statement.at in _done(facts)


@once
def _done(facts: Facts) -> frozenset[Span]:
    """The places of all such lines."""
    works = (one.at for piece in facts.layout.pieces.values() for one in piece.work)
    return frozenset((*works, *(feed.statement.at for feed in facts.layout.frogs.values())))


def _near(facts: Facts, word: str) -> list[str]:
    turnouts = (
        local_name(name)
        for name, piece in facts.layout.pieces.items()
        if piece.template.positions or piece.template.frogs
    )
    return [name for name, _ in zip(one_letter_off(word, turnouts), range(MOST_NAMES), strict=False)]


def piece_slips(facts: Facts, piece: Piece) -> Iterator[HandSlip]:
    """Work that was forgotten at a piece: bonds, cut jumpers, a frog's feed."""
    name, near = local(piece), piece.statement
    done = {type(one) for one in piece.work}
    if ClosureBond not in done:
        line = line_after(facts, ClosureBond, near, f"bond {name}  closure rails to stock rails")
        words, said = bond_words(piece, f" of {name}"), f"{name} is not bonded"
        yield HandSlip("bond", near.at, (line,), words, said, (piece.name,))
    if Cut not in done and piece.template.shape.build == "live-frog":
        alike = AS_ALL * is_cut_one_way(facts)
        for far, (what, metal) in enumerate(cuts_as_elsewhere(facts)):
            line, told = line_after(facts, Cut, near, f"cut {name}  {what}"), metal.format(name)
            said = f"{told} are not cut"
            yield HandSlip("jumpers", near.at, (line,), f"cut {told}", said, (piece.name,), far or alike)
    if piece.name not in facts.layout.frogs and piece.template.frogs:
        yield from _fed(facts, piece)


def _fed(facts: Facts, piece: Piece) -> Iterator[HandSlip]:
    name, said = local(piece), f"the frog of {local(piece)} has no wire"
    if piece.template.has_points:
        line = line_after(facts, FrogFromStockRails, piece.statement, f"frog {name}  switched from stock rails")
        words = f"feed the frog of {name} from its own stock rails through contacts that move with its points"
        yield HandSlip("frog", piece.statement.at, (line,), words, said, (piece.name,))
    for far, wire in enumerate(nearest_wires(facts, wires_outwards(facts, [(piece.name, 0)]), "")[:2], 1):
        line = line_after(facts, FrogAutomatic, piece.statement, f"frog {name}  automatic {local_name(wire)}")
        words = f"feed the frog of {name} from an automatic frog unit on {local_name(wire)}"
        yield HandSlip("frog", piece.statement.at, (line,), words, said, (piece.name,), far)
