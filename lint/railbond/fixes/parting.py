"""Where to gap the track between two supplies: the fewest places, joints before cuts in the middle of a rail."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import pairwise

from railbond.circuit.facts import Facts
from railbond.circuit.polarity import part_of
from railbond.circuit.signed_graph import Part, Seam
from railbond.circuit.wiring import common_groups
from railbond.layout.model import Wire
from trackplan.amend import add_clause
from trackplan.edit import Edit
from trackplan.record import NamedTuple
from trackplan.span import Span
from trackplan.statements import Gap

from .fix_edits import beside, gap_line, length_words, local, seam_edits

JOINT_COST = 10
"""Insulated joiners in both rails of a joint, or, in `HALF_COST`, in the one that has none yet. Whole numbers, so that
which places are full is exact."""

HALF_COST = 9
CUT_COST = 13
"""Both rails cut where there is no joint."""

Spot = tuple[Part, int]
"""A part between two of its drops: 0 up to the first of them."""

Rooms = dict[Spot, dict[Spot, int]]
"""How much more may flow from a spot to the next."""


class Boundary(NamedTuple):
    """A place at which track can be gapped: a seam, or meters from the start of a segment. `rails` are those that must
    be, left (0) and right (1) along the looking direction: both, but for a common rail."""

    one: Spot
    other: Spot
    cost: int
    seam: Seam | None = None
    cut: tuple[str, float] | None = None
    rails: tuple[int, ...] = (0, 1)


def boundary_edits(facts: Facts, boundaries: list[Boundary]) -> tuple[Edit, ...]:
    """Gaps in the rails at each of the places."""
    found: list[Edit] = []
    for boundary in boundaries:
        if boundary.seam is not None:
            found += seam_edits(facts, boundary.seam, boundary.rails)
        elif boundary.cut is not None:
            found += cut_edits(facts, *boundary.cut, boundary.rails)
    return tuple(found)


def boundary_at(facts: Facts, boundary: Boundary) -> Span:
    """The line of the plan at which a missing gap is best told."""
    seam = boundary.seam
    return seam.meeting.at if seam and seam.meeting else facts.layout.pieces[boundary.one[0][0]].statement.at


def fewest_boundaries(facts: Facts, one: str, other: str) -> list[Boundary]:
    """The cheapest places that part the track one supply feeds from the other's: a minimum cut, and so exact. Empty
    where no gap can, because both have a wire to the same metal. Of cuts that are equally cheap, the ones nearest to
    either supply are compared: that which leaves less track turning back on itself, and fewer gaps that part
    nothing, is taken."""
    near, far = _nearest_cuts(facts, one, other)
    if not near or {boundary[:2] for boundary in near} == {boundary[:2] for boundary in far}:
        return near
    return min(near, far, key=lambda cut: _worth(facts, cut))


def _worth(facts: Facts, cut: list[Boundary]) -> tuple[int, int]:
    """How often track turns once the cut is made, and how many joints gapped in both rails then part nothing."""
    turning = (facts.tried(boundary_edits(facts, cut)) or facts).turning
    idle = (
        all(turning.supplies(before) == turning.supplies(behind) for before, behind in seam.rails)
        for seam in turning.seams
        if all(seam.gapped)
    )
    return len(turning.forest.odd), sum(idle)


def _nearest_cuts(facts: Facts, one: str, other: str) -> tuple[list[Boundary], list[Boundary]]:
    """Of the minimum cuts the one nearest to the second supply and the one nearest to the first: what is full in any
    greatest flow between them bounds both."""
    drops = _drops(facts)
    shared = shared_leg(facts, one, other)
    boundaries = [*_joints(facts, drops, shared), *_cuts(facts, drops, shared)]
    fed = list(_fed(facts, drops))
    ones, others = ({spot for spot, supplies in fed if name in supplies} for name in (one, other))
    if not ones or not others or ones & others:
        return [], []
    rooms = _filled(boundaries, ones, others)
    sides = _reached(rooms, others, back=True), _reached(rooms, ones)
    near, far = ([one for one in boundaries if (one.one in side) != (one.other in side)] for side in sides)
    return near, far


def _filled(boundaries: Iterable[Boundary], ones: set[Spot], others: set[Spot]) -> Rooms:
    """What a greatest flow leaves free. It is a few gaps' worth, so it is found way by way, the shortest first (Edmonds
    and Karp, 1972): to load a library for that takes longer."""
    rooms: Rooms = {}
    for boundary in boundaries:
        for here, there in ((boundary.one, boundary.other), (boundary.other, boundary.one)):
            ahead = rooms.setdefault(here, {})
            ahead[there] = ahead.get(there, 0) + boundary.cost
    while True:
        reached = _reached(rooms, ones)
        end = next((spot for spot in reached if spot in others), None)
        if end is None:
            return rooms
        way = [end]
        while (before := reached[way[-1]]) is not None:
            way.append(before)
        least = min(rooms[here][there] for there, here in pairwise(way))
        for there, here in pairwise(way):
            rooms[here][there] -= least
            rooms[there][here] += least


def _reached(rooms: Rooms, starts: Iterable[Spot], back: bool = False) -> dict[Spot, Spot | None]:
    """The spots to which there is room from some, or with `back` from which there is to these; each with the one from
    which it was found."""
    found: dict[Spot, Spot | None] = dict.fromkeys(starts)
    queue = list(found)
    for here in queue:
        for there, room in rooms.get(here, {}).items():
            if there not in found and (rooms[there][here] if back else room):
                found[there] = here
                queue.append(there)
    return found


def _drops(facts: Facts) -> dict[Part, list[float]]:
    """The places of each part's drops, in meters from its segment's start, each once and in order."""
    found: dict[Part, set[float]] = {}
    for drop in facts.layout.drops:
        part = part_of(facts.wiring, drop)
        found.setdefault(part, set()).add(drop.place or 0.0)
    return {part: sorted(places) for part, places in found.items()}


def shared_leg(facts: Facts, one: str, other: str) -> int | None:
    """The leg (0 or 1) that is a common rail of both supplies."""
    groups = common_groups(facts.layout)
    return next((leg for leg in (0, 1) if groups.get(Wire(one, leg), "") == groups.get(Wire(other, leg))), None)


def _parted(facts: Facts, rails: tuple[int, int], shared: int | None) -> tuple[int, ...]:
    """Which of a left and a right rail must be cut: not the one that is common."""
    legs = [{way.source.leg for way in facts.proof.reachable(rail)} for rail in rails]
    return tuple(index for index in (0, 1) if legs[index] != {shared}) or (0, 1)


def _joints(facts: Facts, drops: dict[Part, list[float]], shared: int | None) -> Iterator[Boundary]:
    """The seams at which a rail that must be gapped is whole."""
    for seam in facts.turning.seams:
        rails = _parted(facts, (seam.rails[0][0], seam.rails[1][0]), shared)
        whole = [index for index in rails if not seam.gapped[index]]
        if whole:
            first, second = _ends(facts, seam)
            spots = (seam.one, _last(drops, seam.one) * first), (seam.other, _last(drops, seam.other) * second)
            yield Boundary(*spots, HALF_COST if len(whole) == 1 else JOINT_COST, seam, rails=rails)


def _ends(facts: Facts, seam: Seam) -> tuple[bool, bool]:
    """Whether the seam lies at the far end of each of its parts, along the looking direction."""
    if seam.meeting is None:
        return True, False
    return facts.wiring.end(seam.meeting.one).leaves, facts.wiring.end(seam.meeting.other).leaves


def _last(drops: dict[Part, list[float]], part: Part) -> int:
    """The number of a part's last spot."""
    return max(len(drops.get(part, ())) - 1, 0)


def _cuts(facts: Facts, drops: dict[Part, list[float]], shared: int | None) -> Iterator[Boundary]:
    """The middle between two drops to a segment."""
    for part, places in drops.items():
        if facts.layout.pieces[part[0]].template.is_plain:
            for number, (before, behind) in enumerate(pairwise(places)):
                cut = part[0], (before + behind) / 2
                rails = _parted(facts, _rails_at(facts, *cut), shared)
                yield Boundary((part, number), (part, number + 1), CUT_COST, None, cut, rails)


def _rails_at(facts: Facts, name: str, place: float) -> tuple[int, int]:
    """A segment's left and right rail at a place on it."""
    metals = facts.layout.pieces[name].template.metals
    here = [index for index, metal in enumerate(metals) if metal.start < place < metal.stop]
    left, right = (facts.wiring.metal(name, index) for index in here[:2])
    return left, right


def _fed(facts: Facts, drops: dict[Part, list[float]]) -> Iterator[tuple[Spot, frozenset[str]]]:
    """Every drop's spot, and the supplies behind its wire."""
    for drop in facts.layout.drops:
        part = part_of(facts.wiring, drop)
        number = drops[part].index(drop.place or 0.0)
        plain = facts.layout.pieces[part[0]].template.is_plain
        yield (part, number if plain else 0), facts.supply_of_wire.get(drop.wire.name, frozenset())


def cut_edits(facts: Facts, name: str, offset: float, rails: tuple[int, ...] = (0, 1)) -> tuple[Edit, ...]:
    """Rails of a segment cut, `offset` meters from its start; feeders to its middle say where that is."""
    piece = facts.layout.pieces[name]
    at, length = piece.statement.at, max(metal.stop for metal in piece.template.metals)
    words = "both rails" if len(rails) == 2 else ("left rail", "right rail")[rails[0]]
    gap = gap_line(beside(facts, Gap, at), f"{local(piece)} at {length_words(offset)}", words)
    return gap, *_placed(facts, name, length / 2)


def _placed(facts: Facts, name: str, middle: float) -> Iterator[Edit]:
    told: set[Span] = set()
    for drop in facts.layout.drops:
        statement = drop.statement
        if drop.piece == name and statement.place is None and statement.at not in told:
            told.add(statement.at)
            yield add_clause(statement, "place", f"at {length_words(middle)}")
