"""Mends where the bridge of a turntable or transfer table opposes the tracks that it comes to."""

from __future__ import annotations

from collections.abc import Iterator

from railbond.circuit.facts import Facts
from railbond.findings import Fix
from railbond.layout.model import Drop, Piece
from trackplan.amend import add_clause, drop_clause, set_word
from trackplan.edit import Edit, add_line
from trackplan.span import Span
from trackplan.statements import Feeder, Reverser

from .candidates import CandidateFix, curing
from .fix_edits import beside, is_single, local, taken_out, uncrossed
from .reversers import new_name
from .rings import Ring, best_ring


def bridge_cures(facts: Facts) -> Iterator[tuple[CandidateFix, ...]]:
    """For each table whose bridge opposes tracks, the feeders to swap, or the ways to let the bridge turn; the mends
    of one fault together."""
    for piece in facts.wiring.pieces:
        if piece.template.bridge and _opposed_at(facts, piece):
            yield from _of_table(facts, piece)


def _of_table(facts: Facts, piece: Piece) -> list[tuple[CandidateFix, ...]]:
    """The bridge swapped, where that is best, or else each track that is the wrong way round; besides that, or where
    no swap helps, what makes all tracks right at once, or the most of them."""
    swaps, turns = (_curing(facts, candidates, piece) for candidates in (_swaps(facts, piece), _turns(facts, piece)))
    own = {drop.statement.at for drop in bridge_drops(facts, piece)}
    if not swaps:
        return [tuple(candidate for _, candidate in turns)] if turns else []
    if swaps[0][1].at in own or not swaps[0][0]:
        return [(swaps[0][1],)]
    whole = [candidate for left, candidate in turns if not left]
    return [(candidate, *whole) for _, candidate in swaps if candidate.at not in own]


def _curing(facts: Facts, candidates: Iterator[CandidateFix], piece: Piece) -> list[tuple[int, CandidateFix]]:
    """Those that lessen the opposed passes of a table, each with how many it leaves; the best first."""
    good = curing(facts, candidates, lambda tried: _lessens(facts, tried, piece))
    return sorted(((_left(facts, candidate, piece), candidate) for candidate in good), key=lambda one: one[0])


def _opposed_at(facts: Facts, piece: Piece) -> int:
    """How many passes between the bridge and a track go from one phase to the other."""
    bridge = {facts.wiring.metal(piece.name, metal) for metal in piece.template.bridge or ()}
    return sum(roll.one in bridge for roll, _ in facts.opposed)


def _lessens(facts: Facts, tried: Facts, piece: Piece) -> bool:
    there = tried.layout.pieces[piece.name]
    return _opposed_at(tried, there) < _opposed_at(facts, piece) and len(tried.shorts) <= len(facts.shorts)


def _left(facts: Facts, candidate: CandidateFix, piece: Piece) -> int:
    tried = facts.tried(candidate.fix.edits) or facts
    return _opposed_at(tried, tried.layout.pieces[piece.name])


def _swaps(facts: Facts, piece: Piece) -> Iterator[CandidateFix]:
    """The feeder of the bridge turned round, and that of each track: the bridge first, as not all are tried."""
    components = facts.proof.component
    rails = [facts.wiring.metal(piece.name, metal) for metal in range(len(piece.template.metals))]
    near = {components[rail] for rail in rails}
    feeders: dict[Span, Feeder] = {}
    for drop in (*bridge_drops(facts, piece), *facts.layout.drops):
        if components[facts.wiring.metal(drop.piece, drop.metal)] in near and not is_single(drop.statement):
            feeders.setdefault(drop.statement.at, drop.statement)
    for feeder in feeders.values():
        fix = Fix(f"swap the two wires to {feeder.rail}", uncrossed(facts, feeder))
        yield CandidateFix(feeder.at, fix, (feeder.rail.split(".")[0], local(piece)))


def _turns(facts: Facts, piece: Piece) -> Iterator[CandidateFix]:
    """A split ring, where the bridge turns, and an auto-reverser; for a bridge that has one pair of wires."""
    feeders = {drop.statement.at: drop for drop in bridge_drops(facts, piece)}
    drop = next(iter(feeders.values()), None)
    if drop is None or len(feeders) > 1 or drop.statement.contacts:
        return
    ring = best_ring(facts, piece)
    if ring and _supply_kind(facts, drop) != "reverser":
        words = f"wire {local(piece)}'s bridge through a split ring: its polarity turns where the head end passes"
        changes = f"{local(piece)}'s bridge gets a split ring"
        fix = Fix(f"{words} {ring.angle:g} degrees", tuple(_split(facts, drop.statement, ring)), False, changes)
        yield CandidateFix(drop.statement.at, fix, (piece.name,))
    if district := _district(facts, drop):
        name = new_name(facts)
        line = add_line(beside(facts, Reverser, drop.statement.at), f"reverser {name}  in {district}")
        edits = (line, set_word(drop.statement, drop.statement.supply, name), *_unsplit(facts, drop.statement))
        words = f"feed {local(piece)}'s bridge from an auto-reverser of its own, {name}"
        fix = Fix(words, edits, False, f"{local(piece)}'s bridge turns its polarity by itself")
        yield CandidateFix(drop.statement.at, fix, (piece.name,))


def fixed_bridge(facts: Facts, piece: Piece) -> Fix | None:
    """The bridge fed from the district of its reverser instead, through a split ring where it is turned."""
    drop = next(iter(bridge_drops(facts, piece)), None)
    supply = drop and facts.layout.supplies.get(drop.wire.name)
    if drop is None or supply is None or supply.district is None or drop.statement.contacts:
        return None
    edits = [set_word(drop.statement, drop.statement.supply, supply.district.rpartition(".")[2])]
    if ring := best_ring(facts, piece):
        edits += _split(facts, drop.statement, ring)
    if len([one for one in facts.layout.drops if one.wire.name == supply.name]) == len(bridge_drops(facts, piece)):
        edits.append(taken_out(facts, supply.statement))
    through = ", through a split ring" if len(edits) > 1 and ring else ""
    words = f"feed {local(piece)}'s bridge from {supply.district} itself{through}"
    return Fix(words, tuple(edits), False, f"{local(piece)}'s bridge has no reverser of its own")


def bridge_drops(facts: Facts, piece: Piece) -> list[Drop]:
    return [drop for drop in facts.layout.drops if drop.piece == piece.name]


def _split(facts: Facts, feeder: Feeder, ring: Ring) -> Iterator[Edit]:
    """The feeder's line with the ring in it."""
    text = f"split at {ring.angle:g} degrees"
    if feeder.split is not None:
        yield set_word(feeder, feeder.split, f"{ring.angle:g} degrees")
        if (feeder.crossed is not None) != ring.crossed:
            yield from uncrossed(facts, feeder)
    elif feeder.crossed is not None:
        yield set_word(feeder, feeder.crossed, f"crossed {text}" if ring.crossed else text)
    else:
        yield add_clause(feeder, "split", f"crossed {text}" if ring.crossed else text)


def _unsplit(facts: Facts, feeder: Feeder) -> Iterator[Edit]:
    if feeder.split is not None:
        yield drop_clause(facts.sources[feeder.at.path], feeder, feeder.split, "split")


def _supply_kind(facts: Facts, drop: Drop) -> str:
    supplies = facts.supply_of_wire.get(drop.wire.name, frozenset())
    return next((facts.layout.supplies[name].kind for name in sorted(supplies)), "")


def _district(facts: Facts, drop: Drop) -> str:
    """The district in which a reverser for that wire goes; empty where it has one, or is analog."""
    for name in sorted(facts.supply_of_wire.get(drop.wire.name, ())):
        supply = facts.layout.supplies[name]
        if supply.kind in ("district", "block", "plug") and not supply.choices:
            district = supply.district or name
            return district.rpartition(".")[2] if facts.layout.supplies[district].kind != "cab" else ""
    return ""
