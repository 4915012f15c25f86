"""Slips in a meet: a module turned end for end, or coupled by its other end."""

from __future__ import annotations

from collections.abc import Iterator

from railbond.circuit.facts import Facts
from trackplan.amend import set_word
from trackplan.edit import Edit
from trackplan.statements import Couple

from .slip import HandSlip


def couple_slips(facts: Facts, couple: Couple) -> Iterator[HandSlip]:
    """Each of its two modules coupled by another of its ends, or turned where both of its ends are coupled."""
    for word in (couple.one, couple.other):
        module, _, edge = word.rpartition(".")
        for name in facts.layout.edges:
            if name.rpartition(".")[0] == module and name != word and module:
                yield _turned(facts, couple, word, name)


def _turned(facts: Facts, couple: Couple, word: str, other: str) -> HandSlip:
    """The two edges exchanged wherever they are coupled."""
    module = word.rpartition(".")[0]
    edits: list[Edit] = []
    for one in facts.statements:
        if isinstance(one, Couple):
            for end in (one.one, one.other):
                if end in (word, other):
                    edits.append(set_word(one, end, other if end == word else word))
    kind = "turned" if len(edits) > 1 else "other end"
    words = (
        f"turn {module} end for end" if kind == "turned" else f"turn {module}, and couple it by its other end, {other}"
    )
    lines = len({edit.at.start for edit in edits})
    return HandSlip(
        kind, couple.at, tuple(edits), words, f"{module} is coupled the wrong way round", (module,), 0, lines
    )
