"""The drops of a plan by their lines, and these by the metal they go to: for whoever asks of one after the other."""

from __future__ import annotations

from railbond.layout.model import Drop
from trackplan.span import Span

from .facts import Facts
from .keeping import once


@once
def drops_at(facts: Facts) -> dict[Span, list[Drop]]:
    """The drops of each line that has any."""
    found: dict[Span, list[Drop]] = {}
    for drop in facts.layout.drops:
        found.setdefault(drop.statement.at, []).append(drop)
    return found


@once
def lines_to(facts: Facts) -> dict[tuple[str, int], list[Span]]:
    """The lines of the drops to each metal of a piece."""
    found: dict[tuple[str, int], list[Span]] = {}
    for drop in facts.layout.drops:
        found.setdefault((drop.piece, drop.metal), []).append(drop.statement.at)
    return found
