"""A reversing section: track that is set apart."""

from __future__ import annotations

from railbond.circuit.facts import Facts
from railbond.circuit.signed_graph import Part, Seam
from trackplan.record import NamedTuple


class Section(NamedTuple):
    """Track that can be set apart, the seams at which it ends, and the length of its plain track in meters."""

    parts: tuple[Part, ...]
    ends: tuple[Seam, ...]
    length: float


def is_plain(facts: Facts, part: Part) -> bool:
    return facts.layout.pieces[part[0]].template.is_plain


def part_length(facts: Facts, part: Part) -> float:
    """Meters of a segment's part; nothing for other trackwork."""
    template = facts.layout.pieces[part[0]].template
    if not template.links:
        return template.length
    marks = [0.0, *(link.offset for link in template.links), template.length]
    return marks[part[1] + 1] - marks[part[1]]
