"""Why no reading shows a mistake."""

from __future__ import annotations

from collections.abc import Iterator

from .continuity import Continuity
from .mistake import Mistake
from .test_points import TestPoints

SAME = "it joins what is joined anyway"
MOST_STEPS = 3
"""Steps of another way that are told one by one."""


def why(mistake: Mistake, metal: Continuity, points: TestPoints) -> str:
    """The reason, and where there is another way through the metal, that way."""
    if mistake.hidden:
        return mistake.hidden
    for one, other in _ends(mistake, metal):
        way = _other_way(metal, metal.atom[one], metal.atom[other], frozenset(mistake.lost))
        if way:
            return f"the same two are joined {_by(way, metal, points)} too"
    return SAME


def _ends(mistake: Mistake, metal: Continuity) -> Iterator[tuple[int, int]]:
    bonds = [*(metal.graph.bonds[number] for number in mistake.lost), *mistake.made]
    yield from ((bond.one, bond.other) for bond in bonds)


def _by(way: list[int], metal: Continuity, points: TestPoints) -> str:
    """The steps of a way: wires, contacts and other bonds, each by its two ends."""
    bonds = [metal.graph.bonds[number] for number in way]
    steps = [f"{points.name[bond.one]} - {points.name[bond.other]}" for bond in bonds]
    if len(steps) > MOST_STEPS:
        steps = [steps[0], f"{len(steps) - 2} more", steps[-1]]
    return f"by {', '.join(steps)}"


def _other_way(metal: Continuity, start: int, stop: int, gone: frozenset[int]) -> list[int]:
    """The bonds of the shortest way from one atom to another without the lost ones, those that always hold first."""
    for always in (True, False):
        came: dict[int, tuple[int, int]] = {start: (start, -1)}
        queue = [start]
        for here in queue:
            for number, there, when in metal.ties.get(here, ()):
                if number not in gone and there not in came and (when is None or not always):
                    came[there] = (here, number)
                    queue.append(there)
        if stop in came and stop != start:
            return _back(came, start, stop)
    return []


def _back(came: dict[int, tuple[int, int]], start: int, stop: int) -> list[int]:
    way, here = [], stop
    while here != start:
        here, number = came[here]
        way.append(number)
    return way[::-1]
