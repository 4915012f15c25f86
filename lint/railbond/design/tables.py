"""The wire of a turntable's or transfer table's bridge, the way round that its tracks ask for."""

from __future__ import annotations

from collections.abc import Iterator

from railbond.circuit.facts import Facts
from railbond.circuit.signed_graph import Part
from railbond.fixes.fix_edits import local
from railbond.fixes.reversers import new_name
from railbond.fixes.rings import best_ring
from railbond.layout.model import Piece

from .draft import WrittenLine


def bridges(facts: Facts, owners: dict[Part, str]) -> Iterator[WrittenLine]:
    """A pair for each bridge without one: plain where all tracks agree, else through a split ring, else a reverser."""
    fed = {drop.piece for drop in facts.layout.drops}
    for piece in facts.layout.pieces.values():
        if piece.template.bridge and piece.name not in fed:
            yield from _bridge(facts, piece, owners)


def _bridge(facts: Facts, piece: Piece, owners: dict[Part, str]) -> Iterator[WrittenLine]:
    supply = _around(facts, piece) or owners.get((piece.name, 0), "") or next(iter(facts.layout.supplies), "main")
    wire, name = supply.rpartition(".")[2], local(piece)
    size = _size(facts)
    ring, votes = best_ring(facts, piece), list(_votes(facts, piece))
    agree = max(votes.count(True), votes.count(False)) == len(votes)
    if ring is not None and not ring.unsuited:
        why = "its bridge turns end for end: the ring is split where no track lies, and its polarity turns there"
        crossed = "  crossed" if ring.crossed else ""
        yield WrittenLine(f"feeder {wire} -> {name}.bridge{size}{crossed}  split at {ring.angle:g} degrees", why, name)
    elif agree and ring is None:
        crossed = "  crossed" if votes and votes[0] else ""
        yield WrittenLine(f"feeder {wire} -> {name}.bridge{size}{crossed}", "the bridge agrees with its tracks", name)
    else:
        reverser = new_name(facts)
        why = "its tracks ask the bridge for both polarities, and no split of its ring suits all of them"
        yield WrittenLine(f"reverser {reverser}  in {_district(facts, supply)}", why, name)
        yield WrittenLine(f"feeder {reverser} -> {name}.bridge{size}", why, name)


def _district(facts: Facts, supply: str) -> str:
    behind = sorted(facts.supply_of_wire.get(supply, ()))
    own = facts.layout.supplies.get(next(iter(behind), supply))
    return ((own and own.district) or supply).rpartition(".")[2]


def _around(facts: Facts, piece: Piece) -> str:
    """The wire from which most of the table's tracks are fed."""
    names = [
        drop.wire.name
        for drop in facts.layout.drops
        if any(
            meeting.one.piece == piece.name
            and meeting.other.piece == drop.piece
            or meeting.other.piece == piece.name
            and meeting.one.piece == drop.piece
            for meeting in facts.layout.meetings
        )
    ]
    return max(dict.fromkeys(names), key=names.count, default="")


def _votes(facts: Facts, piece: Piece) -> Iterator[bool]:
    """For each track whether the bridge's left rail meets the second leg there."""
    base, left = facts.wiring.first[piece.name], (piece.template.bridge or (0, 0))[0]
    for step in piece.template.passes:
        if left in (step.one, step.other):
            track = base + (step.other if step.one == left else step.one)
            legs = {way.source.leg for way in facts.proof.reachable(track) if way.source.kind != "unit"}
            if len(legs) == 1:
                yield legs == {1}


def _size(facts: Facts) -> str:
    for drop in facts.layout.drops:
        if drop.statement.size and drop.statement.length:
            return f"  {drop.statement.size.text}  {max(float(drop.statement.length), 0.3) * 100:.0f} cm"
    return ""
