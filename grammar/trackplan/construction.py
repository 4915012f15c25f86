"""Hand-laid or unusual trackwork, told by its own conductors, ties, passes and ends. See `statements`.

Rails are named in `rail` and `frog` clauses; every other clause speaks of rails by these names, and of positions by
those that a `positions` clause gives. A list of positions that is left out means all of them.
"""

from __future__ import annotations

from .quantities import Number
from .record import NamedTuple
from .span import Span, Word

Words = tuple[Word, ...]


class PositionsClause(NamedTuple):
    """What the points can be set to. `aligned`: there are no points; these are routes that others' points choose."""

    names: Words
    aligned: Word | None


class RailClause(NamedTuple):
    names: Words


class Wanted(NamedTuple):
    """In these positions a frog wants the polarity of `rail` and its frog rail is `onto`.

    Its contacts bring the wire that is named after `leg`, which is `through` or `diverging`.
    """

    positions: Words
    rail: Word
    onto: Word | None
    leg: Word | None


class FrogClause(NamedTuple):
    name: Word
    wants: tuple[Wanted, ...] | None


class JoinedClause(NamedTuple):
    """Each rail is one with the next. `how` is `touching`, `soldered` or, as built, None."""

    rails: Words
    positions: Words | None
    how: Word | None


class PassClause(NamedTuple):
    """A wheel rolls from each rail onto the next."""

    rails: Words
    positions: Words | None


class BladeClause(NamedTuple):
    """A blade touches the rail it lies beside in some positions, and stands open beside it in others."""

    closure: Word
    beside: Word
    touches: Words | None
    opens: Words | None


class EndRail(NamedTuple):
    """A rail at an end; `word` says that it is what `frog rail` or `stock rail` means there."""

    word: Word | None
    rail: Word


class OpeningClause(NamedTuple):
    """An end, its rails seen looking out. `way` is `enters` where the looking direction comes in, else `leaves`."""

    name: Word
    left: EndRail
    right: EndRail
    way: Word
    positions: Words | None
    part: Number | None


Clause = PositionsClause | RailClause | FrogClause | JoinedClause | PassClause | BladeClause | OpeningClause


class Construction(NamedTuple):
    at: Span
    name: Word
    clauses: tuple[Clause, ...]
