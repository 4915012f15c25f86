"""The fewest drops, held against every choice of places on a grid."""

from __future__ import annotations

from itertools import combinations
from random import Random

import pytest

from railbond.circuit.facts import Facts
from railbond.design.covering import covering
from railbond.design.track_map import TrackMap
from trackplan.read import read
from trackplan.span import Source

REACH = 1.95
GRID = 0.25


def tree(rng: Random) -> str:
    """A tree of plain track: turnouts with isolated frogs, whose rails run through."""
    lines, ends = [], ["stop"]
    for number in range(rng.randrange(1, 3)):
        start = ends.pop()
        lines += [
            f"segment s{number} {start} -> T{number}.points {rng.randrange(1, 12) / 4:g} m",
            f"turnout T{number} left number 6 isolated-frog",
        ]
        ends += [f"T{number}.through", f"T{number}.diverging"]
    lines += [f"segment e{n} {end} -> stop {rng.randrange(2, 12) / 4:g} m" for n, end in enumerate(ends)]
    return "\n".join(lines) + "\n"


def facts_of(text: str) -> Facts:
    source = Source("plan", text)
    return Facts(read(source).statements, {"plan": source})


def fewest(facts: Facts) -> int:
    """The least number of places on a grid of plain track with which nothing is left uncovered."""
    sites = [
        (name, round(place * GRID, 2))
        for name, piece in facts.layout.pieces.items()
        if piece.template.length
        for place in range(int(piece.template.length / GRID) + 1)
    ]
    for count in range(1, 5):
        if any(covers(facts, chosen) for chosen in combinations(sites, count)):
            return count
    return 5


def covers(facts: Facts, sites: tuple[tuple[str, float], ...]) -> bool:
    marks: dict[str, list[float]] = {}
    for name, place in sites:
        marks.setdefault(name, []).append(place)
    track = TrackMap(facts, "pairs", marks)
    lengths = {name: piece.template.length for name, piece in facts.layout.pieces.items()}
    nodes = {
        (name, "start" if place == 0 else "finish" if place >= lengths[name] else f"{place:g}"): 0.0
        for name, place in sites
    }
    far = track.distances(nodes)
    inf = float("inf")
    ends = ((far.get(one.one, inf), far.get(one.other, inf), one.length) for one in track.stretches)
    return all((here + there + long) / 2 <= REACH + GRID for here, there, long in ends)


@pytest.mark.parametrize("seed", range(12))
def test_no_fewer_places_do(seed: int) -> None:
    """On the grid a place may lie a step off, so the grid is given that much more reach: it never needs more."""
    facts = facts_of(tree(Random(seed)))
    found = covering(TrackMap(facts, "pairs"), REACH, [])
    assert len(found.sites) == found.least
    assert found.least - 1 <= (least := fewest(facts)) <= found.least, least


@pytest.mark.parametrize(("meters", "pairs"), [(3.8, 1), (4.0, 2), (7.7, 2), (7.9, 3), (15.5, 4)])
def test_plain_track_takes_a_pair_for_every_two_reaches(meters: float, pairs: int) -> None:
    facts = facts_of(f"segment s stop -> stop {meters} m\n")
    assert len(covering(TrackMap(facts, "pairs"), REACH, []).sites) == pairs
