"""What ties components to one another while a switch stands so, and no longer."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence

from .graph import Bond, Literal, Setting

Tie = tuple[int, Setting]
"""Another component, and how one switch stands while they are tied."""


def tied(component: Sequence[int], bonds: Iterable[Bond]) -> dict[int, list[Tie]]:
    """The ties of each component that has any, in the order of the components and switches."""
    ties: dict[int, list[Tie]] = {}
    for one, tie in ties_of(component, bonds):
        ties.setdefault(one, []).append(tie)
    for own in ties.values():
        own.sort(key=_order)
    return ties


def tied_again(
    known: dict[int, list[Tie]], component: Sequence[int], gone: Iterable[Bond], come: Iterable[Bond]
) -> dict[int, list[Tie]]:
    """The same of bonds that differ in a few from those of which the ties of the same components are known."""
    less, more = [*ties_of(component, gone)], [*ties_of(component, come)]
    if Counter(less) == Counter(more):
        return known
    changed = {one: list(known.get(one, ())) for one, _ in (*less, *more)}
    for one, tie in less:
        changed[one].remove(tie)
    for one, tie in more:
        changed[one].append(tie)
    for own in changed.values():
        own.sort(key=_order)
    ties = known | changed
    for one in (one for one, own in changed.items() if not own):
        del ties[one]
    return ties


def ties_of(component: Sequence[int], bonds: Iterable[Bond]) -> Iterator[tuple[int, Tie]]:
    """The ties of two components in some bonds, from either side."""
    settings: dict[Literal, Setting] = {}
    for first, second, when, _, _ in bonds:
        if when is not None and (one := component[first]) != (other := component[second]):
            setting = settings.get(when)
            if setting is None:
                setting = settings[when] = frozenset((when,))
            yield one, (other, setting)
            yield other, (one, setting)


def _order(tie: Tie) -> tuple[object, ...]:
    return tie[0], *tie[1]
