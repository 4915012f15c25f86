"""Wires at the wrong rail or on the wrong side of a cut: two single ones exchanged, one on a frog's own rail, a pair
beyond a cut within its segment."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from railbond.circuit.drops_by import drops_at, lines_to
from railbond.circuit.facts import Facts
from railbond.fixes.fix_edits import is_single, length_words, local, taken_out
from railbond.layout.model import Drop, EndAt, Piece
from railbond.layout.template import OTHER_SIDE
from trackplan.amend import set_word
from trackplan.statements import Feeder, Gap

from .slip import HandSlip
from .wires import OTHER

OTHER_STOCK = {"through.stock": "diverging.stock", "diverging.stock": "through.stock"}

NEAR = 0.5
"""Meters within which nobody solders two pairs of wires, or cuts a segment off."""

CLOSE = 6.0
"""How much further off, in steps, what would lie so near is."""


def misplaced_drops(facts: Facts, feeder: Feeder) -> Iterator[HandSlip]:
    """A single drop exchanged with its fellow, or on a rail of a fed frog in place of the track behind; a drop on the
    wrong half of a segment that is cut."""
    drops = drops_at(facts).get(feeder.at, [])
    if drops and is_single(feeder):
        yield from _exchanged(facts, feeder)
        yield from _on_a_frog(facts, feeder, drops[0])
    if drops:
        yield from _beyond_a_cut(facts, feeder, drops[0])


def _exchanged(facts: Facts, feeder: Feeder) -> Iterator[HandSlip]:
    """A drop and that to the other rail beside it, or to the turnout's other stock rail, each from the other's leg."""
    name, _, rail = feeder.rail.rpartition(".")
    owner, _, end = feeder.rail.partition(".")
    fellows = {f"{name}.{OTHER.get(rail, '')}": name, f"{owner}.{OTHER_STOCK.get(end, '')}": owner}
    singles = (drop.statement for drop in facts.layout.drops if is_single(drop.statement))
    near = {one.at: one for one in singles if one.rail in fellows and one.at.path == feeder.at.path}
    for other in (one for one in near.values() if one.supply != feeder.supply):
        one, two = sorted((feeder, other), key=lambda drop: drop.at)
        edits = (set_word(one, one.supply, str(two.supply)), set_word(two, two.supply, str(one.supply)))
        where = fellows[other.rail]
        words, said = f"swap the two wires to {where}", f"the two wires to {where} are swapped"
        yield HandSlip("swapped", one.at, edits, words, said, (owner,))


def _on_a_frog(facts: Facts, feeder: Feeder, drop: Drop) -> Iterator[HandSlip]:
    """Contacts or a unit turn the polarity of what is one metal with the frog, and no drop belongs there."""
    piece, wiring = facts.layout.pieces[drop.piece], facts.wiring
    own = facts.proof.component[wiring.metal(piece.name, drop.metal)]
    metals = (wiring.metal(piece.name, frog.metal) for frog in piece.template.frogs)
    if not facts.layout.feeds(piece.name) or all(facts.proof.component[metal] != own for metal in metals):
        return
    said = f"the wire to {feeder.rail} is soldered to metal that changes polarity with the frog of {local(piece)}"
    off = 0.5
    for rail, is_fed in _rails_beyond(facts, piece, drop.metal):
        off -= is_fed
        words = f"solder the wire to {rail} instead, behind the cut"
        edits = (set_word(feeder, feeder.rail, rail),)
        yield HandSlip("on frog", feeder.at, edits, words, said, (local(piece), rail.partition(".")[0]))
    words = f"take the wire to {feeder.rail} off"
    yield HandSlip("on frog", feeder.at, (taken_out(facts, feeder),), words, said, (local(piece),), off)


def _rails_beyond(facts: Facts, piece: Piece, metal: int) -> Iterator[tuple[str, bool]]:
    """The rails of plain track that a rail of a piece meets, as a feeder names them; and whether each has a wire."""
    fed = lines_to(facts)
    for meeting in facts.layout.meetings:
        for here, there in ((meeting.one, meeting.other), (meeting.other, meeting.one)):
            beyond = facts.layout.pieces[there.piece]
            end = piece.template.ends.get(here.end) if here.piece == piece.name else None
            for side in ("left", "right") if end and beyond.template.is_plain else ():
                if end and end.side(side) == metal:
                    rail = beyond.template.ends[there.end].side(OTHER_SIDE[side])
                    yield f"{local(beyond)}.{_along(there, side)}", (beyond.name, rail) in fed


def _along(end: EndAt, side: str) -> str:
    """A rail of a segment seen along its arrow, that meets a rail which is seen looking out of its neighbor."""
    return OTHER_SIDE[side] if end.end == "finish" else side


def _beyond_a_cut(facts: Facts, feeder: Feeder, drop: Drop) -> Iterator[HandSlip]:
    """The same distance from a cut on its other side, where that is track of the same supply, or has no wire."""
    piece, place = facts.layout.pieces[drop.piece], drop.place
    cuts = _cuts(facts, piece)
    if not cuts or place is None or feeder.place is None:
        return
    edges = [0.0, *cuts, piece.template.length]
    behind = facts.supply_of_wire.get(drop.wire.name)
    for cut in cuts:
        there = 2 * cut - place
        stretch = next((one for one in pairwise(edges) if one[0] < there < one[1] and cut in one), None)
        if stretch is None:
            continue
        fed = {facts.supply_of_wire.get(one.wire.name) for one in _drops(facts, piece) if _is_in(one, stretch)}
        if fed <= {behind}:
            text, name = length_words(there), local(piece)
            words = f"solder the wires to {name} at {text} instead, beyond the cut"
            said = (
                f"the wires to {name} at {feeder.place.text if feeder.place else ''} lie on the wrong side of the cut"
            )
            far = CLOSE * (stretch[1] - stretch[0] <= NEAR)
            edits = (set_word(feeder, feeder.place, text),) if feeder.place else ()
            yield HandSlip("wrong half", feeder.at, edits, words, said, (name,), far)


def _is_in(drop: Drop, stretch: tuple[float, float]) -> bool:
    return drop.place is not None and stretch[0] < drop.place < stretch[1]


def misplaced_cuts(facts: Facts, piece: Piece, gap: Gap) -> Iterator[HandSlip]:
    """A cut within a segment made one drop too far, for one between that drop and the next."""
    drops = sorted({drop.place: drop for drop in _drops(facts, piece) if drop.place is not None}.items())
    for (before, one), (after, other) in pairwise(drops):
        if gap.offset is None or before < gap.offset < after:
            continue
        apart = facts.supply_of_wire.get(one.wire.name) != facts.supply_of_wire.get(other.wire.name)
        if apart and not any(before < cut < after for cut in _cuts(facts, piece)):
            text, name = length_words(_where(facts, piece, before, after)), local(piece)
            words = f"close the cut within {name} and cut at {text} instead, between the wires of two supplies"
            said = f"the cut within {name} at {gap.offset.text} lies on the wrong side of a wire"
            far = CLOSE * (after - before <= NEAR)
            yield HandSlip("cut past", gap.at, (set_word(gap, gap.offset, text),), words, said, (name,), far)


def _where(facts: Facts, piece: Piece, before: float, after: float) -> float:
    """As far from one end as another cut lies from the other, or halfway."""
    evenly = (piece.template.length - cut for cut in _cuts(facts, piece))
    return next((place for place in evenly if before < place < after), (before + after) / 2)


def _drops(facts: Facts, piece: Piece) -> list[Drop]:
    return [drop for drop in facts.layout.drops if drop.piece == piece.name]


def _cuts(facts: Facts, piece: Piece) -> list[float]:
    """Where both rails of a segment are cut, or the one that is not common: which parts wires from wires."""
    gaps = [one for one in piece.work if isinstance(one, Gap) and one.offset is not None]
    whole = (one for one in gaps if facts.layout.commons or one.rail == "both rails")
    return sorted({float(one.offset) for one in whole if one.offset is not None})
