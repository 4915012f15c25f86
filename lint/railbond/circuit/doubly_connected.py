"""The blocks of a graph: any two edges of one lie on a common cycle (Hopcroft and Tarjan, 1973).

Nearly every plan with a fault that turns asks for them once: to load a library for it takes longer than to find
that fault.
"""

from __future__ import annotations

from collections.abc import Hashable, Iterable

Ends = tuple[Hashable, Hashable]


def blocks_of_edges(edges: Iterable[Ends]) -> dict[frozenset[Hashable], int]:
    """The number of the block of each edge, by its two ends, which differ."""
    around: dict[Hashable, dict[Hashable, None]] = {}
    for one, other in edges:
        around.setdefault(one, {})[other] = None
        around.setdefault(other, {})[one] = None
    found: dict[frozenset[Hashable], int] = {}
    number: dict[Hashable, int] = {}
    for root in around:
        if root not in number:
            _walk(root, around, number, found)
    return found


def _walk(
    root: Hashable,
    around: dict[Hashable, dict[Hashable, None]],
    number: dict[Hashable, int],
    found: dict[frozenset[Hashable], int],
) -> None:
    """Goes as deep as it can from a root. Where nothing behind an edge leads back beyond its near end, all edges since
    then are a block."""
    number[root] = len(number)
    lowest, met = {root: number[root]}, list[Ends]()
    way = [(root, root, iter(around[root]), 0)]
    while way:
        here, before, ahead, start = way[-1]
        there = next(ahead, None)
        if there is None:
            way.pop()
            lowest[before] = min(lowest[before], lowest[here])
            if here != root and lowest[here] >= number[before]:
                found |= dict.fromkeys(map(frozenset, met[start:]), len(found))
                del met[start:]
        elif there not in number:
            number[there] = lowest[there] = len(number)
            way.append((there, here, iter(around[there]), len(met)))
            met.append((here, there))
        elif there != before and number[there] < number[here]:
            met.append((here, there))
            lowest[here] = min(lowest[here], number[there])
