"""The usual feeds of frogs as lines of a plan: automatic units, as many as it takes."""

from __future__ import annotations

from collections.abc import Iterable

from railbond.circuit.facts import Facts
from railbond.circuit.sharing import apart, shared
from railbond.layout.model import Piece
from railbond.layout.template import frog_names

from .fix_edits import local


def unit_lines(facts: Facts, piece: Piece, supply: str, frogs: Iterable[int] | None = None) -> list[str]:
    """An automatic unit for frogs of a piece (all, unless said): one, or one for each where some cannot share it."""
    every = list(range(len(piece.template.frogs)))
    own = every if frogs is None else list(frogs)
    together = len(shared(apart(facts.wiring, facts.proof, piece), own)) < 2
    return [f"frog {word}  automatic {supply}" for word in frog_words(piece, own, together)]


def frog_words(piece: Piece, frogs: list[int], together: bool = True) -> list[str]:
    """What a plan calls these frogs of a piece: the piece where it is all of them and they are fed together."""
    if together and len(frogs) == len(piece.template.frogs):
        return [local(piece)]
    names = list(frog_names(piece.template))
    return [f"{local(piece)}.{names[frog]}" for frog in frogs]


def needs_words(count: int) -> str:
    """`an automatic frog unit`, `two automatic frog units`."""
    numbers = ("no", "an", "two", "three", "four")
    return f"{numbers[count] if count < len(numbers) else count} automatic frog unit{'s' * (count > 1)}"
