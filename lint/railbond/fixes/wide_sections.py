"""Sections over several chains of track and the turnout between them: where no single stretch is as long as a train."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from itertools import accumulate, combinations

from railbond.circuit.balance import Chain
from railbond.circuit.facts import Facts
from railbond.circuit.signed_graph import Part, Seam
from trackplan.record import NamedTuple

from .section import Section, part_length

Arm = tuple[str, float]
"""The turnout's end at which a section goes on, and how many meters."""


class _Reach(NamedTuple):
    """As far as a section goes from a turnout along a chain: the seams there and at the turnout, and all between."""

    near: Seam
    end: Seam
    parts: tuple[Part, ...]
    arm: Arm


def wide_sections(
    facts: Facts, found: Sequence[Chain], at: Mapping[Part, Sequence[int]], longest: float
) -> Iterator[tuple[frozenset[int], Section]]:
    """For each turnout the chains of a block that meet there, which `at` tells, and the least section around it that is
    as long as the longest train, or else the longest: two or three of the chains, each as far as it is needed, with
    cuts at all other ends. Its length is that of the shortest way through, in meters."""
    for part, own in at.items():
        ends = facts.layout.pieces[part[0]].template.ends
        if len(ends) == 3 and next(iter(ends)) == "points" and all(len(set(found[one].ends)) == 2 for one in own):
            reaches = [_reach(facts, part, found[one], longest) for one in own]
            sets = (chosen for size in range(1, len(own) + 1) for chosen in combinations(reaches, size))
            sections = (_section(facts, part, chosen) for chosen in sets)
            yield frozenset(own), min(sections, key=lambda one: _worth(facts, one, longest))


def _worth(facts: Facts, section: Section, longest: float) -> tuple[float, float]:
    total = sum(part_length(facts, part) for part in section.parts)
    return max(longest - section.length, 0.0), total


def _reach(facts: Facts, part: Part, chain: Chain, longest: float) -> _Reach:
    ahead = chain.ends[0] == part
    seams, row = (chain.seams, chain.parts) if ahead else (chain.seams[::-1], chain.parts[::-1])
    sums = list(accumulate(part_length(facts, one) for one in row))
    count = next((number for number, sum_ in enumerate(sums, 1) if sum_ >= longest), len(row))
    return _Reach(seams[0], seams[count], row[:count], (_end(seams[0], part), sums[count - 1] if count else 0.0))


def _section(facts: Facts, part: Part, own: Sequence[_Reach]) -> Section:
    parts = (part, *(between for one in own for between in one.parts))
    others = [seam for seam in facts.turning.forest.ties[part] if all(seam is not one.near for one in own)]
    arms = [*(one.arm for one in own), *((_end(seam, part), 0.0) for seam in others)]
    return Section(parts, (*(one.end for one in own), *others), shortest(arms))


def _end(seam: Seam, part: Part) -> str:
    meeting = seam.meeting
    assert meeting is not None, "a turnout has no cuts within"
    return meeting.one.end if meeting.one.piece == part[0] else meeting.other.end


def shortest(arms: Sequence[Arm]) -> float:
    """Meters of the shortest way over a turnout: from its points to another end."""
    lead = sum(length for end, length in arms if end == "points")
    return lead + min(length for end, length in arms if end != "points")
