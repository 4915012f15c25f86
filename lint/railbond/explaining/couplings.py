"""Slips in a meet: a module turned end for end, or coupled by its other end; tracks of one edge coupled crosswise."""

from __future__ import annotations

from collections.abc import Iterator

from railbond.circuit.facts import Facts
from trackplan.amend import set_word
from trackplan.edit import Edit
from trackplan.statements import Couple

from .slip import HandSlip


def couple_slips(facts: Facts, couple: Couple) -> Iterator[HandSlip]:
    """Each of its two modules coupled by another of its ends, or turned where both of its ends are coupled. Tracks of
    one edge do not change their places when a module is turned: they are only exchanged where they are crosswise."""
    for word in (couple.one, couple.other):
        module, _, edge = word.rpartition(".")
        for name in facts.layout.edges:
            if name.rpartition(".")[0] == module and name != word and module:
                if not _are_tracks_of_one_edge(word, name):
                    yield _turned(facts, couple, word, name)
                elif _is_crosswise(facts, couple):
                    yield _straightened(facts, couple, word, name)


def _are_tracks_of_one_edge(one: str, other: str) -> bool:
    (edge, _, track), (edge_, _, track_) = one.rpartition("-"), other.rpartition("-")
    return edge == edge_ and track.isdigit() and track_.isdigit()


def _is_crosswise(facts: Facts, couple: Couple) -> bool:
    """Whether a track meets another than lies opposite: the first of the one edge meets the last of the other."""
    edge, _, track = couple.one.rpartition("-")
    other = couple.other.rpartition("-")[2]
    tracks = sum(name.rpartition("-")[0] == edge for name in facts.layout.edges)
    return track.isdigit() and other.isdigit() and int(track) + int(other) != tracks + 1


def _straightened(facts: Facts, couple: Couple, word: str, other: str) -> HandSlip:
    edits, edge = _exchanged(facts, word, other), word.rpartition("-")[0]
    words = f"exchange {word} and {other}: tracks are counted from the left, looking out of either edge"
    said, lines = f"the tracks of {edge} are coupled crosswise", len({edit.at.start for edit in edits})
    return HandSlip("crosswise", couple.at, tuple(edits), words, said, (str(word), other), 0, lines)


def _exchanged(facts: Facts, word: str, other: str) -> list[Edit]:
    """The two edges exchanged wherever they are coupled."""
    edits: list[Edit] = []
    for one in facts.statements:
        if isinstance(one, Couple):
            for end in (one.one, one.other):
                if end in (word, other):
                    edits.append(set_word(one, end, other if end == word else word))
    return edits


def _turned(facts: Facts, couple: Couple, word: str, other: str) -> HandSlip:
    module = word.rpartition(".")[0]
    edits = _exchanged(facts, word, other)
    kind = "turned" if len(edits) > 1 else "other end"
    words = (
        f"turn {module} end for end" if kind == "turned" else f"turn {module}, and couple it by its other end, {other}"
    )
    lines = len({edit.at.start for edit in edits})
    return HandSlip(
        kind, couple.at, tuple(edits), words, f"{module} is coupled the wrong way round", (module,), 0, lines
    )
