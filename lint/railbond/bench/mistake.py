"""A mistake at the bench: what differs from the plan in the rail graph when somebody has made it."""

from __future__ import annotations

from typing import NamedTuple

from railbond.circuit.graph import Bond
from trackplan.span import Span


class Mistake(NamedTuple):
    """`lost` are bonds of the rail graph, by number, that do not hold, and `made` those that hold besides.

    `kind` names its sort and `words` tell what is wrong. `hidden` says why no meter on this graph can see it. `both`
    are the mistakes that are made at once, where there are two.
    """

    kind: str
    words: str
    lost: tuple[int, ...] = ()
    made: tuple[Bond, ...] = ()
    at: Span | None = None
    hidden: str = ""
    both: tuple[Mistake, ...] = ()


def together(one: Mistake, other: Mistake) -> Mistake:
    """Both mistakes at once."""
    lost = tuple(dict.fromkeys((*one.lost, *other.lost)))
    words, made = f"{one.words}; and {other.words}", (*one.made, *other.made)
    return Mistake("two", words, lost, made, one.at, both=(one, other))
