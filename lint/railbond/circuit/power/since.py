"""What differs between two layouts of the same rail graph: lengths, places and sizes."""

from __future__ import annotations

from railbond.layout.model import Drop, Layout, Piece, Run
from trackplan.record import NamedTuple


class SinceBefore(NamedTuple):
    """Pieces that are other, or on which a drop is, by their names; and drops and runs, as they were and as they are.
    Each is in the place in which it was."""

    pieces: dict[str, tuple[Piece, Piece]]
    drops: list[tuple[Drop, Drop]]
    runs: list[tuple[Run, Run]]


def changed(before: Layout, after: Layout) -> SinceBefore | None:
    """What has changed; None where not everything has its place in both, or what holds for all wires is another."""
    if before.limits is not after.limits or before.rails is not after.rails:
        return None
    drops = [pair for pair in zip(before.drops, after.drops, strict=True) if pair[0] is not pair[1]]
    runs = [pair for pair in zip(before.runs, after.runs, strict=True) if pair[0] is not pair[1]]
    old, new = before.pieces, after.pieces
    names = dict.fromkeys(name for name, one in new.items() if old.get(name) is not one)
    names |= dict.fromkeys(drop.piece for _, drop in drops)
    return SinceBefore({name: (old[name], new[name]) for name in names}, drops, runs)


def are_turned(since: SinceBefore, before: Layout, after: Layout) -> bool:
    """Whether wires have changed in nothing but which leg they bring: both legs of a wire are as far from a supply."""
    kinds = ("supplies", "commons", "frogs")
    if any(getattr(before, kind) is not getattr(after, kind) for kind in kinds):
        return False
    drops = all(_soldered(old) == _soldered(new) for old, new in since.drops)
    return drops and all((old.source, old.terminal) == (new.source, new.terminal) for old, new in since.runs)


def _soldered(drop: Drop) -> object:
    return drop.wire.name, drop.piece, drop.metal, drop.when
