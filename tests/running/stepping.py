"""The slow and certain way: an engine put down every 0.05 mm, and each of its wheels looked at."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence

STEP = 50
"""Micrometers."""

Rail = Callable[[float], bool]
"""Whether a place of a rail is dead."""


def places(first: int, last: int) -> Iterator[float]:
    """Every place of the engine; halves of micrometers, so that none is a place where two rails meet."""
    return (first + STEP * step + 0.5 for step in range((last - first) // STEP))


def dead_wheels(rail: Rail, wheels: Iterable[int], place: float) -> list[bool]:
    return [rail(place - wheel) for wheel in wheels]


def stands(rails: tuple[Rail, Rail], wheels: tuple[Sequence[int], Sequence[int]], place: float) -> bool:
    """Whether a side of the engine has no live wheel."""
    return any(all(dead_wheels(rail, side, place)) for rail, side in zip(rails, wheels, strict=True))


def hangs_on_one(rails: tuple[Rail, Rail], firm: tuple[Sequence[int], Sequence[int]], place: float) -> bool:
    """Whether a side with several wheels that bear weight has at most one of them on live rail."""
    return any(
        len(side) > 1 and dead_wheels(rail, side, place).count(False) <= 1
        for rail, side in zip(rails, firm, strict=True)
    )


def inside(intervals: Iterable[tuple[int, int]], place: float) -> bool:
    return any(start < place < stop for start, stop in intervals)
