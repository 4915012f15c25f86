"""The statements of a plan by their kinds and places: for whoever asks of one line after the other."""

from __future__ import annotations

from trackplan.span import Span
from trackplan.statements import Statement
from trackplan.typed import TypeVar, cast

from .facts import Facts
from .keeping import once

Kind = TypeVar("Kind")


def of_kind(facts: Facts, *kinds: type[Kind]) -> list[Kind]:
    """The statements of some kinds, in their order: a list that is shared and is not to be changed."""
    known = _known(facts)
    if kinds not in known:
        known[kinds] = [one for one in facts.statements if type(one) in kinds]
    return cast("list[Kind]", known[kinds])


def holding(facts: Facts, at: Span) -> Statement | None:
    """The statement in which a place lies."""
    return next((one for one in facts.statements if one.at.holds(at)), None)


@once
def _known(facts: Facts) -> dict[tuple[type, ...], list[Statement]]:
    """Those that were asked for."""
    return {}
