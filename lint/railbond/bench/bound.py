"""A number of probes below which no sheet with the same settings of the points can go.

A mistake that only cuts metal off shows in a probe that must beep, with an end in what it cuts off (in one of the
settings). Where such parts do not overlap, a probe shows at most two of those mistakes, one for each of its ends.
A mistake that only joins metal shows in a probe that must not beep, between two parts that it joins; where the
mistakes join no two parts in common, each needs a probe of its own. The two kinds of probes are different ones.
"""

from __future__ import annotations

from .effect import Effect
from .probes import Bench


def bound(bench: Bench) -> int:
    """The fewest probes that could do."""
    effects: dict[int, list[tuple[int, Effect]]] = {}
    for (stand, mistake), effect in bench.effects.items():
        effects.setdefault(mistake, []).append((stand, effect))
    cutting = [_cut_off(several) for several in effects.values() if all(not _joins(one) for _, one in several)]
    joining = [_joined(several) for several in effects.values() if all(not one.parts for _, one in several)]
    return -(-len(_apart(cutting)) // 2) + len(_apart(joining))


def _joins(effect: Effect) -> bool:
    return next(effect.merged(), None) is not None


def _cut_off(several: list[tuple[int, Effect]]) -> frozenset[object]:
    """In each setting, the atoms one of which an end must touch."""
    return frozenset((stand, atom) for stand, effect in several for part in effect.parts.values() for atom in part)


def _joined(several: list[tuple[int, Effect]]) -> frozenset[object]:
    return frozenset((stand, *sorted(pair)) for stand, effect in several for pair in effect.merged())


def _apart(sets: list[frozenset[object]]) -> list[frozenset[object]]:
    """Sets no two of which overlap, smallest first."""
    taken: set[object] = set()
    found = []
    for one in sorted(sets, key=len):
        if taken.isdisjoint(one):
            taken |= one
            found.append(one)
    return found
