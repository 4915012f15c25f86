"""The drops: where they go, and from which wire."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from typing import NamedTuple

from railbond.circuit.facts import Facts
from railbond.layout.limits import limit
from railbond.layout.model import Piece

from .covering import DropSite, covering
from .orientation import Territory
from .placing import placed
from .spread import Spread
from .track_map import Node, TrackMap, node_at, part_at
from .wishes import WiringWishes

SPARE = 0.01
"""Meters of the spacing limit that are kept for rounding."""


MOST_PAIRS = 2_000
"""Pairs of drops that are written to one plan. Who asks for more means another unit."""

FAR_TOO_MANY = 10
"""How often as many as that the track by its length alone asks for where they are not counted."""


class TooManyDrops(ValueError):
    """Nobody solders so many; its text says what asks for them."""


class NewDrop(NamedTuple):
    """A pair of drops to plain track, the supply that feeds it, and why it is there."""

    site: DropSite
    supply: str
    why: str


def spacing(facts: Facts) -> float:
    """How far a rail may run on from a wire, in meters."""
    return limit(facts.layout, "feeder-spacing") or 2.0


def new_drops(facts: Facts, wishes: WiringWishes, territory: Territory, share: float) -> list[NewDrop]:
    """Where pairs of drops go, at a share of the spacing limit."""
    at_most = spacing(facts) * share
    most = max(at_most - SPARE, at_most / 2)
    track = TrackMap(facts, "pairs")
    every = list(_every_piece(facts, track)) if wishes.drops == "every-piece" else []
    marks = {name: list(places) for name, places in track.marks.items()}
    for site in every:
        marks.setdefault(site.piece, []).append(site.place)
    track = TrackMap(facts, "pairs", marks) if every else track
    soldered = {node_at(facts, name, place) for name, places in marks.items() for place in places}
    found = covering(track, most, soldered, SPARE)
    spread = Spread(track, soldered, found.sites, most + SPARE * 0.8)
    sites = placed(spread, wishes.lengths.steps)
    pairs = [NewDrop(site, _supply(territory, facts, site), "every piece gets a pair of drops") for site in every]
    far = wishes.lengths.about(most + SPARE)
    alone = [not own for own in _others_in_reach(spread)]
    return pairs + [
        NewDrop(site, _supply(territory, facts, site), _reason(site, far, is_alone))
        for site, is_alone in zip(sites, alone, strict=True)
    ]


def _reason(site: DropSite, far: str, is_alone: bool) -> str:
    if is_alone:
        return f"no other pair of wires reaches {site.piece} and what hangs together with it"
    return f"else a rail of {site.piece} or beside it would lie further than {far} along the metal from a soldered wire"


def _others_in_reach(spread: Spread) -> Iterator[bool]:
    """For each drop whether metal leads from it to another one, or to what is soldered already."""
    whole: dict[Node, Node] = {}
    for start in spread.track.at:
        if start not in whole:
            whole |= dict.fromkeys(spread.track.distances({start: 0.0}), start)
    own = [whole[spread.stretch(site).one] for site in spread.sites]
    counts = Counter([*own, *(whole[node] for node in spread.soldered if node in whole)])
    return (counts[one] > 1 for one in own)


def fewest_pairs(facts: Facts) -> int:
    """Pairs of drops that the spacing limit asks for, however they are placed."""
    whole = sum(piece.template.length for piece in facts.layout.pieces.values())
    if whole > 2 * spacing(facts) * MOST_PAIRS * FAR_TOO_MANY:  # told at once: to count them takes long
        raise _too_many(facts, f"more than {MOST_PAIRS:,}")
    marks: dict[str, list[float]] = {}
    for drop in facts.layout.drops:
        if drop.place is not None:
            marks.setdefault(drop.piece, []).append(drop.place)
    track = TrackMap(facts, "either", marks)
    soldered = {node_at(facts, name, place) for name, places in marks.items() for place in places}
    bare = {drop.piece for drop in facts.layout.drops if drop.place is None}
    soldered |= {node for stretch in track.stretches for node in (stretch.other,) if stretch.piece in bare}
    least = covering(track, spacing(facts), soldered).least
    if least > MOST_PAIRS:
        raise _too_many(facts, f"{least}")
    return least


def _too_many(facts: Facts, pairs: str) -> TooManyDrops:
    said = f"the limit feeder-spacing of {spacing(facts):g} m asks for {pairs} pairs of drops"
    return TooManyDrops(f"{said}: is the unit right?")


def _supply(territory: Territory, facts: Facts, site: DropSite) -> str:
    return territory.get(part_at(facts, site.piece, site.place), "")


def _every_piece(facts: Facts, track: TrackMap) -> Iterator[DropSite]:
    for piece in facts.layout.pieces.values():
        if piece.template.length and piece.name not in track.marks:
            for start, stop in _runs(piece):
                yield DropSite(piece.name, round((start + stop) / 2, 3))


def _runs(piece: Piece) -> list[tuple[float, float]]:
    marks = [0.0, *(link.offset for link in piece.template.links), piece.template.length]
    return list(zip(marks, marks[1:], strict=False))
