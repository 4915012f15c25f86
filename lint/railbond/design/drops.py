"""The drops: where they go, and from which wire."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from railbond.circuit.facts import Facts
from railbond.layout.limits import limit
from railbond.layout.model import Piece

from .covering import DropSite, covering
from .orientation import Territory
from .track_map import Node, TrackMap, node_at, part_at
from .wishes import WiringWishes

SPARE = 0.01
"""Meters of the spacing limit that are kept for rounding."""


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
    most = spacing(facts) * share - SPARE
    track = TrackMap(facts, gapped=False)
    every = list(_every_piece(facts, track)) if wishes.drops == "every-piece" else []
    marks = {name: list(places) for name, places in track.marks.items()}
    for site in every:
        marks.setdefault(site.piece, []).append(site.place)
    track = TrackMap(facts, False, marks) if every else track
    soldered = {node_at(facts, name, place) for name, places in marks.items() for place in places}
    found = covering(track, most, soldered, SPARE)
    sites = centered(facts, soldered, found.sites, most)
    meters = f"{round(most + SPARE, 2):g} m"
    pairs = [NewDrop(site, _supply(territory, facts, site), "every piece gets a pair of drops") for site in every]
    why = f"else a rail of {{}} or beside it would lie further than {meters} along the metal from a soldered wire"
    return pairs + [NewDrop(site, _supply(territory, facts, site), why.format(site.piece)) for site in sites]


def fewest_pairs(facts: Facts) -> int:
    """Pairs of drops that the spacing limit asks for, however they are placed."""
    track = TrackMap(facts, gapped=False)
    soldered = {node_at(facts, name, place) for name, places in track.marks.items() for place in places}
    return covering(track, spacing(facts), soldered).least


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


APART = 0.1
"""Meters that two drops to one rail keep from each other."""

MOST_WALKED = 100_000
"""Stretches of track looked at to move sites to where a wirer would have them."""


def centered(facts: Facts, soldered: set[Node], sites: list[DropSite], most: float) -> list[DropSite]:
    """The sites, each at the middle of its segment, or as near to that as the limit lets it."""
    if 4 * len(sites) * len(facts.layout.pieces) > MOST_WALKED:
        return sites
    own = list(sites)
    for number, site in enumerate(sites):
        length = facts.layout.pieces[site.piece].template.length
        for share in (1.0, 0.75, 0.5, 0.25):
            place = round((site.place + (length / 2 - site.place) * share) * 20) / 20
            moved = site._replace(place=place)
            others = [*own[:number], moved, *own[number + 1 :]]
            if 0 < place < length and _reaches(facts, soldered, others, moved, most):
                own = others
                break
    return own


def _reaches(facts: Facts, soldered: set[Node], sites: list[DropSite], moved: DropSite, most: float) -> bool:
    """Whether every place still lies near enough to a drop, with the sites as they are."""
    if any(one.piece == moved.piece and one is not moved and abs(one.place - moved.place) < APART for one in sites):
        return False
    marks: dict[str, list[float]] = {}
    for site in (*(_site(facts, node) for node in soldered), *sites):
        marks.setdefault(site.piece, []).append(site.place)
    track = TrackMap(facts, False, marks)
    far = track.distances({node_at(facts, name, place): 0.0 for name, places in marks.items() for place in places})
    ends = ((far.get(one.one), far.get(one.other), one.length) for one in track.stretches)
    least = most + SPARE * 0.8
    return all(here is None or there is None or (here + there + long) / 2 <= least for here, there, long in ends)


def _site(facts: Facts, node: Node) -> DropSite:
    """The place of a node at which a pair is soldered already."""
    name, at = node
    ends = {"start": 0.0, "finish": facts.layout.pieces[name].template.length}
    return DropSite(name, ends[at] if at in ends else float(at))
