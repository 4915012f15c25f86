"""Cuts that part nothing as a plan stands, of which one may think that they were meant for another place."""

from __future__ import annotations

from railbond.circuit.facts import Facts
from railbond.circuit.polarity import part_of
from railbond.circuit.unused import wires_of_feed
from railbond.layout.model import Meeting
from trackplan.statements import Gap


def is_idle(facts: Facts, gap: Gap) -> bool:
    """Whether the rails on both sides of a cut carry the same as it is, and that not because all is joined elsewhere:
    so that it parts nothing."""
    same = all(_carried(facts, one) == _carried(facts, other) for one, other in _rails_at(facts, gap))
    return same and not _is_between_supplies(facts, gap)


def _is_between_supplies(facts: Facts, gap: Gap) -> bool:
    """Whether the nearest wires on both sides of a cut come from different supplies. Where one side has those of the
    other as well, it is no more between them than any other place there."""
    here = next((one for one in facts.layout.meetings if gap in one.gaps.values()), None)
    ends = (here.one, here.other) if here else ()
    behind = {_fed_by(facts, end.piece, {one.piece for one in ends}) for end in ends} - {frozenset()}
    return len(behind) > 1 and not any(one < other for one in behind for other in behind)


def _fed_by(facts: Facts, piece: str, here: set[str]) -> frozenset[str]:
    """The supplies of the wires to a piece, or where it has none to those beside it on its own side of a cut, at its
    points if it has some."""
    beside = (one for one in facts.layout.meetings if piece in (one.one.piece, one.other.piece) and not one.gaps)
    near = {end.piece for one in beside for end in (one.one, one.other)} - here
    points = {end.piece for one in facts.layout.meetings if _is_points_of(piece, one) for end in (one.one, one.other)}
    for pieces in ({piece}, near & points, near):
        own = [drop.wire.name for drop in facts.layout.drops if drop.piece in pieces]
        if own:
            return frozenset[str]().union(*(facts.supply_of_wire.get(wire, ()) for wire in own))
    return frozenset()


def _is_points_of(piece: str, meeting: Meeting) -> bool:
    return any(end.piece == piece and end.end == "points" for end in (meeting.one, meeting.other))


def parts_nothing(facts: Facts, gap: Gap) -> bool:
    """The same of a cut at a joint, where the rails carry something; and of one in the common rail."""
    pairs = _rails_at(facts, gap)
    return bool(pairs) and all(
        _carried(facts, one) == _carried(facts, other) != frozenset()
        or all(way.source.common for rail in (one, other) for way in facts.proof.reachable(rail))
        for one, other in pairs
    )


def parts_nothing_within(facts: Facts, gap: Gap) -> bool:
    """Whether a cut within a segment has the same on both of its sides, in its rails and by the wires to them."""
    piece = next((one for one in facts.layout.pieces.values() if gap in one.work), None)
    link = next((one for one in piece.template.links if one.offset == gap.offset), None) if piece else None
    if piece is None or link is None:
        return True
    first, sides = facts.wiring.first[piece.name], ((piece.name, link.one), (piece.name, link.other))
    pairs = zip(link.rails_one, link.rails_other, strict=True)
    wires = [[drop.wire.name for drop in facts.layout.drops if part_of(facts.wiring, drop) == side] for side in sides]
    fed = [frozenset[str]().union(*(facts.supply_of_wire.get(one, ()) for one in own)) for own in wires if own]
    same = all(_carried(facts, first + one) == _carried(facts, first + other) for one, other in pairs)
    return same and len(set(fed)) < 2


def idle_cuts(facts: Facts) -> int:
    """How many joints are cut where the rails on both sides carry the same: who cuts a rail wants to part something."""
    count = 0
    for meeting in facts.layout.meetings:
        pairs = [facts.wiring.across(meeting, side) for side in meeting.gaps]
        count += bool(pairs) and all(_carried(facts, one) == _carried(facts, other) for one, other in pairs)
    return count


def unused_supplies(facts: Facts) -> int:
    """How many supplies that have wires of their own feed nothing by them: who lays on a supply uses it."""
    frogs = (name for feed in facts.layout.frogs.values() for name in wires_of_feed(feed))
    ends = {*(drop.wire.name for drop in facts.layout.drops), *frogs}
    used = frozenset[str]().union(*(facts.supply_of_wire.get(wire, frozenset()) for wire in ends))
    parents = {name for one in facts.layout.supplies.values() for name in (one.district, *one.hangs_on)}
    return sum(name not in used and name not in parents for name in facts.layout.supplies)


def _rails_at(facts: Facts, gap: Gap) -> list[tuple[int, int]]:
    """The rails on both sides of a cut at a joint."""
    here = next((one for one in facts.layout.meetings if gap in one.gaps.values()), None)
    return [facts.wiring.across(here, side) for side, one in here.gaps.items() if one == gap] if here else []


def _carried(facts: Facts, rail: int) -> frozenset[object]:
    return frozenset(facts.proof.reachable(rail))
