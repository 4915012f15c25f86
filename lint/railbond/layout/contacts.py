"""When the wires of a feeder have power: contacts that move with points, and the split ring of a turntable."""

from __future__ import annotations

from railbond.findings import Step
from trackplan.statements import Feeder, Turntable, where

from .model import Piece
from .names import Names, listed
from .symbols import SPECIAL, TABLES
from .template import Template

When = tuple[str, tuple[str, ...]] | None
"""A piece and those of its positions in which a wire has power; None: it always has."""

NEAR_THE_SPLIT = 0.5
"""Degrees from the split of a ring within which its brush may touch both halves, or neither."""


def contacts_of(feeder: Feeder, names: Names, pieces: dict[str, Piece]) -> When:
    """What the contacts of a feeder ask for. A fault in them does not undo the feeder: its wires are then plain."""
    if feeder.contacts is None:
        return None
    word, position = feeder.contacts
    mover = names.find(feeder, word, (*SPECIAL, *TABLES), "turnout")
    piece = pieces.get(mover or "")
    if piece is None:
        return None
    stands = _positions(piece.template)
    if not stands:
        names.fault("impossible", feeder, word, f"`{word}` has no points that could move contacts", name=feeder.rail)
        return None
    if position not in stands:
        near = names.near(position, stands)
        message = f"`{word}` never stands for `{position}`: expected {listed(stands, 'or')}"
        names.misspelled(feeder, position, message, names.whole(near) if near else None)
    return (piece.name, stands[position]) if position in stands else None


def _positions(template: Template) -> dict[str, tuple[str, ...]]:
    """What contacts can be said to wait for: a position, or either end of a table's bridge at one of its tracks."""
    if template.aligned:
        return {}
    tracks = {name: end.routes for name, end in template.ends.items() if template.bridge}
    return {position: (position,) for position in template.positions} | tracks


def halves(feeder: Feeder, piece: Piece, names: Names) -> list[tuple[bool, When]]:
    """For each half of a split ring whether it turns the polarity, and when the bridge is in it.

    While the head end stands within the half turn that follows the split, the first leg feeds the bridge's left rail.
    """
    if feeder.split is None or _refused(feeder, piece, names):
        return []
    turned: dict[bool, list[str]] = {False: [], True: []}
    for position, heading in piece.template.headings.items():
        turned[(heading - feeder.split) % 360 >= 180].append(position)
    return [(crossed, (piece.name, tuple(positions))) for crossed, positions in turned.items() if positions]


def tell_no_ring(feeder: Feeder, names: Names) -> None:
    """Tells a split ring where nothing turns."""
    if feeder.split is not None:
        message = f"`{feeder.rail}` does not turn: only a turntable's bridge, such as `TT.bridge`, has a ring to split"
        names.fault("impossible", feeder, feeder.split, message, name=feeder.rail)


def _refused(feeder: Feeder, piece: Piece, names: Names) -> bool:
    """Tells a ring that cannot be: on a bridge that is never turned, or split where a track comes to the pit."""
    split, message = feeder.split, ""
    assert split is not None
    if feeder.contacts is not None:
        message = "the halves of a split ring are the contacts: leave `split` or `through contacts` out"
    if not isinstance(piece.statement, Turntable):
        message = f"the bridge of `{piece.statement.name}` is never turned, so no ring on it can be split"
    for track, heading in piece.template.headings.items():
        if abs((heading - split + 90) % 180 - 90) <= NEAR_THE_SPLIT:
            message = f"the ring cannot be split at {split.text}: the bridge stands just there for `{track}`"
    if message:
        why = (Step(where(piece.statement), f"the table `{piece.statement.name}`"),)
        names.fault("impossible", feeder, split, message, "split it between two tracks", why=why, name=feeder.rail)
    return bool(message)
