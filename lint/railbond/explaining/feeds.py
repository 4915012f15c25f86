"""Slips that leave track without power: wires forgotten or soldered elsewhere; and the ring of a turned bridge."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator

from railbond.circuit.facts import Facts
from railbond.fixes.feeding import feed
from railbond.fixes.fix_edits import is_single, widened
from railbond.fixes.rings import best_ring
from railbond.fixes.wires_around import wire_around
from railbond.fixes.wires_nearby import parts_of, wires_outwards
from railbond.layout.model import Piece
from trackplan.amend import add_clause, set_word
from trackplan.statements import Feeder

from .slip import HandSlip
from .wires import local_name, moved_to, nearest_wires

MOST_SOURCES = 4
"""Wires from which a forgotten drop may come, the likeliest first."""

WIDER = 30.0
"""Degrees by which another split of a ring has more room between tracks, so that one that grazes a track is wrong."""

GRAZES = 20.0
"""How much nearer, in steps, such a place is then: it is told by the ring alone, whatever the wires are."""

AT_ONE_PLACE = 24.0
"""How much nearer, in steps, the later of two pairs lies that go to one place: nobody solders there twice."""

MOST_MOVED = 12
"""Drops elsewhere that may have been meant for track without power."""


def dead_slips(facts: Facts, conductors: list[int]) -> Iterator[HandSlip]:
    """A drop that was forgotten, or that went to other track."""
    yield from _half_parted(facts, conductors)
    yield from _forgotten(facts, conductors)
    yield from _elsewhere(facts, conductors)


def _forgotten(facts: Facts, conductors: list[int]) -> Iterator[HandSlip]:
    likely = wire_around(facts, conductors)
    around = wires_outwards(facts, parts_of(facts, conductors))
    wires = list(_one_a_supply(facts, (likely, *nearest_wires(facts, around, "")))) if likely else [""]
    pieces = tuple(dict.fromkeys(facts.piece_of(one) for one in conductors))
    for far, wire in enumerate(wires[:MOST_SOURCES]):
        fix = feed(facts, conductors, "" if wire == likely else wire)
        if fix:
            at = facts.layout.pieces[pieces[0]].statement.at
            said = f"{pieces[0]} has no wire"
            yield HandSlip("drop", at, fix.edits, fix.words, said, pieces, 3 * far, len(fix.edits))


def _half_parted(facts: Facts, conductors: list[int]) -> Iterator[HandSlip]:
    """A drop that was forgotten where a joint is cut in one rail only, so that the other rail has the power that comes
    from beyond: where all other cuts are of both rails, that one was meant to be, too."""
    pieces = dict.fromkeys(facts.piece_of(one) for one in conductors)
    cut = [one for one in facts.layout.meetings if one.gaps]
    half = [one for one in cut if len(one.gaps) == 1 and (one.one.piece in pieces or one.other.piece in pieces)]
    wired = any(drop.piece in pieces for drop in facts.layout.drops)
    if len(half) != 1 or wired or any(len(one.gaps) == 1 and one not in half for one in cut) or len(cut) == 1:
        return
    (meeting,) = half
    gap = next(iter(meeting.gaps.values()))
    cuts = widened(meeting)
    made = facts.tried(cuts)
    if made is None:
        return
    dead = [rail for rail in made.proof.dead(made.graph.rails) if rail not in made.frog_units]
    fix = feed(made, dead) if cuts and len(dead) > len(conductors) else None
    if fix and gap.rail in ("left rail", "right rail") and not facts.layout.commons:
        here = next(end.piece for end in (meeting.one, meeting.other) if end.piece in pieces)
        said = f"{local_name(here)} is cut in one rail only at {gap.place} and has no wire"
        words = f"cut the other rail at {gap.place} too and {fix.words}"
        edits = (*cuts, *fix.edits)
        yield HandSlip("half", gap.at, edits, words, said, tuple(pieces), 0, len(edits), 2)


def _one_a_supply(facts: Facts, wires: Iterable[str]) -> Iterator[str]:
    """The first wire of each supply, as long as it is the same booster's: nobody crosses the room for another's."""
    told, boosters = set[frozenset[str]](), set[str | None]()
    for wire in wires:
        supplies = facts.supply_of_wire.get(wire, frozenset())
        own = {facts.layout.supplies[name].booster for name in supplies}
        if supplies not in told and (not boosters or own <= boosters):
            told.add(supplies)
            boosters |= own
            yield wire


def _elsewhere(facts: Facts, conductors: list[int]) -> Iterator[HandSlip]:
    """Of track that has two pairs of wires or more, each may have been meant for here."""
    counts = Counter(feeder.rail.partition(".")[0] for feeder in _pairs(facts))
    pieces = dict.fromkeys(facts.piece_of(one) for one in conductors)
    dead = [facts.layout.pieces[name] for name in pieces]
    segments = [str(piece.statement.name) for piece in dead if piece.template.is_plain]
    twice = [one for one in _pairs(facts) if counts[one.rail.partition(".")[0]] > 1][:MOST_MOVED]
    places = {drop.statement.at: (drop.piece, drop.place) for drop in facts.layout.drops}
    for feeder in twice:
        again = any(one.at < feeder.at and places[one.at] == places[feeder.at] for one in twice)
        near = AT_ONE_PLACE * again
        yield from (moved_to(feeder, name, far - near) for far, name in enumerate(segments[:2]))


def _pairs(facts: Facts) -> list[Feeder]:
    feeders = {drop.statement.at: drop.statement for drop in facts.layout.drops}
    return [one for one in feeders.values() if not is_single(one)]


def ring_slips(facts: Facts, piece: Piece) -> Iterator[HandSlip]:
    """A turntable's ring that is split elsewhere, or not at all."""
    ring = best_ring(facts, piece)
    feeders = {drop.statement.at: drop.statement for drop in facts.layout.drops if drop.piece == piece.name}
    for feeder in feeders.values() if ring else ():
        assert ring is not None
        text = f"{ring.angle:g} degrees"
        if feeder.split is not None:
            edit = set_word(feeder, feeder.split, text)
            said = f"the ring of {piece.name} is split at {feeder.split.text} in place of {text}"
        else:
            edit = add_clause(feeder, "split", f"split at {text}")
            said = f"the ring of {piece.name} is not split"
        words = f"split the ring of {piece.name} at {text}"
        grazes = ring.room - 2 * _clear(piece, feeder) > WIDER
        yield HandSlip("split", feeder.at, (edit,), words, said, (piece.name,), -GRAZES * grazes)


def _clear(piece: Piece, feeder: Feeder) -> float:
    """How far a split lies from the nearest track's heading, in degrees; where there is none, as if it were right."""
    if feeder.split is None:
        return 180.0
    return min(abs((heading - float(feeder.split) + 90) % 180 - 90) for heading in piece.template.headings.values())
