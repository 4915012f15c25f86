"""Which frogs of a piece can share one automatic unit: those that never want different rails at one time."""

from __future__ import annotations

from collections.abc import Iterable

from .template import Template


def unit_groups(template: Template, frogs: Iterable[int]) -> list[list[int]]:
    """Frogs by their numbers, those of one group on one unit: as few units as do. A piece has so few frogs that taking
    each to the first group that suits it gives the fewest."""
    groups: list[list[int]] = []
    for frog in frogs:
        fit = next((group for group in groups if all(_agree(template, frog, one) for one in group)), None)
        if fit is None:
            groups.append([frog])
        else:
            fit.append(frog)
    return groups


def _agree(template: Template, one: int, other: int) -> bool:
    here, there = template.frogs[one].wants, template.frogs[other].wants
    return all(_is_one(template, here[at], there[at]) for at in here.keys() & there.keys())


def _is_one(template: Template, one: int, other: int) -> bool:
    """Whether two metals are always one."""
    reached = {one}
    ties = [tie for tie in template.ties if tie.when is None]
    while grown := {m for tie in ties if reached & {tie.one, tie.other} for m in (tie.one, tie.other)} - reached:
        reached |= grown
    return other in reached
