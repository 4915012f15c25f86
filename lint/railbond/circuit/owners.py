"""Which piece each conductor is part of."""

from __future__ import annotations

from typing import Any, cast


def owners_of(facts: Any) -> tuple[str, ...]:
    """The name of each conductor's piece; empty for a wire. Of the same conductors it is that of the facts before."""
    known = facts.before
    if known and known.graph.names is facts.graph.names and known.wiring.first is facts.wiring.first:
        return cast("tuple[str, ...]", known.owners)
    return cast("tuple[str, ...]", facts.wiring.owners)
