"""How other points stand while a train is on track that has none of its own, such as a crossing.

Where the track itself tells, by leading from a route's end to those points, nothing else counts: the crossing of a
scissors is run on its track a only with the turnout at a1 diverging. Only where no track leads there are the routes
taken in order: the first one for the first position of the points, the second for the second. Where another frog of
the track has a toggle, that too is set for the track that is run.
"""

from __future__ import annotations

from collections.abc import Iterator

from railbond.layout.model import EndAt, FrogFeed, Layout, Piece

Needs = tuple[tuple[str, tuple[str, ...]], ...]
"""Switches, each with the positions in one of which it must stand."""


def aligned(layout: Layout) -> dict[str, dict[str, Needs]]:
    """For each piece whose frogs are switched with other points: how those stand for each of its routes."""
    moved = [feed for feed in layout.frogs.values() if feed.mover and feed.mover != feed.piece]
    if not moved:
        return {}
    beyond = {one.one: one.other for one in layout.meetings} | {one.other: one.one for one in layout.meetings}
    toggled = {feed.piece for feed in layout.frogs.values() if _is_toggled(feed)}
    found: dict[str, dict[str, Needs]] = {}
    for feed in moved:
        piece, mover = layout.pieces[feed.piece], feed.mover
        if not piece.template.aligned or not mover or layout.pieces[mover].template.aligned:
            continue
        own = found.setdefault(feed.piece, {})
        for route, stands in _stands(layout, beyond, piece, mover).items():
            known = own.get(route, ((feed.piece, (route,)),) if feed.piece in toggled else ())
            own[route] = known if mover in dict(known) else (*known, (mover, stands))
    return found


def _is_toggled(feed: FrogFeed) -> bool:
    """Whether a frog of track without points gets its power through contacts that no other points move: a toggle."""
    return feed.kind == "stock rails" or (feed.kind == "switched" and feed.mover in (None, feed.piece))


def _stands(layout: Layout, beyond: dict[EndAt, EndAt], piece: Piece, mover: str) -> dict[str, tuple[str, ...]]:
    """For each route the positions of the points in which a train can be on it; routes that no track leads to from
    there have the positions that are left."""
    positions = layout.pieces[mover].template.positions
    led = {route: tuple(dict.fromkeys(_led(layout, beyond, piece, route, mover))) for route in piece.template.positions}
    taken = {position for stands in led.values() for position in stands}
    rest = tuple(position for position in positions if position not in taken)
    if taken and rest:
        return {route: stands or rest for route, stands in led.items()}
    if taken and all(led.values()):
        return led
    return {route: (position,) for route, position in zip(piece.template.positions, positions, strict=False)}


def _led(layout: Layout, beyond: dict[EndAt, EndAt], piece: Piece, route: str, mover: str) -> Iterator[str]:
    """The positions in which the points lead to an end of a route, over track that has no points."""
    for name, end in piece.template.ends.items():
        if not end.routes or route in end.routes:
            here = beyond.get(EndAt(piece.name, name))
            seen: set[EndAt] = set()
            while here and here not in seen and here.piece != mover:
                seen.add(here)
                onward = _onward(layout.pieces[here.piece], here.end)
                here = beyond.get(EndAt(here.piece, onward)) if onward else None
            if here and here.piece == mover:
                yield from layout.pieces[mover].template.ends[here.end].routes


def _onward(piece: Piece, entered: str) -> str | None:
    """The end to which a train goes on without a choice: the other one of a part that has two."""
    ends, template = piece.template.ends, piece.template
    if template.has_points or template.bridge:
        return None
    part = 0 if template.is_plain else ends[entered].part
    others = [name for name, end in ends.items() if name != entered and (template.is_plain or end.part == part)]
    return others[0] if len(others) == 1 else None
