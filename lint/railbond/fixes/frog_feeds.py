"""The usual feeds of frogs as lines of a plan: automatic units, as many as it takes."""

from __future__ import annotations

from collections.abc import Iterable
from itertools import chain

from railbond.circuit.facts import Facts
from railbond.circuit.keeping import once
from railbond.layout.model import Piece
from railbond.layout.order import supplies_by_name
from railbond.layout.sharing import unit_groups
from railbond.layout.template import frog_names

from .fix_edits import local
from .wires_nearby import parts_around, wires_outwards


def unit_wire(facts: Facts, piece: Piece) -> str:
    """The wire of which a unit for a piece's frogs takes its power, as its own file calls it: the nearest that feeds
    the track around. Empty where its plan, or module, has none."""
    module = piece.name.removesuffix(local(piece))
    wires = chain(wires_outwards(facts, parts_around(facts, piece)), _fixed_supplies(facts))
    own = (wire for wire in wires if wire.rpartition(".")[0] == module.rstrip("."))
    return next(own, "").rpartition(".")[2]


@once
def _fixed_supplies(facts: Facts) -> list[str]:
    """The supplies that never turn, by name."""
    return [name for name, one in supplies_by_name(facts.layout) if one.kind in ("district", "plug")]


def unit_lines(facts: Facts, piece: Piece, supply: str, frogs: Iterable[int] | None = None) -> list[str]:
    """Automatic units for frogs of a piece: one line for all of them, or one for each that is named."""
    every = list(range(len(piece.template.frogs)))
    own = every if frogs is None else list(frogs)
    return [f"frog {word}  automatic {supply}" for word in frog_words(piece, own)]


def units(piece: Piece, frogs: Iterable[int]) -> int:
    """How many units such lines stand for."""
    own = list(frogs)
    return len(unit_groups(piece.template, own)) if len(own) == len(piece.template.frogs) else len(own)


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
